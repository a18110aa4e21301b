// Phones and tablets that may come in: pair one, see them, send one away.
import { useEffect, useState } from "preact/hooks";
import { get, post } from "../../api/client.ts";
import type { Device, DevicesAnswer, Pairing } from "../../api/device_types.ts";
import type { Problem } from "../../api/types.ts";
import { Button, Notice, ProblemNotice } from "../../controls/index.ts";
import { datesAs } from "../../state/choices.ts";
import { session } from "../../state/session.ts";
import { t } from "../../words/index.ts";
import "./pianos.css";

export function DevicesView() {
  const [devices, setDevices] = useState<Device[]>([]);
  const [pairing, setPairing] = useState<Pairing | null>(null);
  const [problem, setProblem] = useState<Problem | null>(null);
  const known = session.value;
  const load = async () => {
    const answer = await get<DevicesAnswer>("/api/devices");
    if (answer.ok) setDevices(answer.value.devices);
    else setProblem(answer.problem);
  };
  const here = known !== null && known.device === null;
  useEffect(() => {
    if (here) void load();
  }, [here]);
  const begin = async () => {
    const answer = await post<Pairing>("/api/pairing", {});
    if (answer.ok) {
      setPairing(answer.value);
      setProblem(null);
    } else setProblem(answer.problem);
  };
  const revoke = async (device: Device) => {
    const answer = await post<unknown>(`/api/devices/${encodeURIComponent(device.id)}/revoke`, {});
    if (!answer.ok) setProblem(answer.problem);
    await load();
  };
  if (!known) return null;
  const time = new Intl.DateTimeFormat(datesAs.value, { dateStyle: "medium", timeStyle: "short" });
  if (!here) {
    return (
      <Notice heading={t("devices.this", { name: known.device ?? "" })}>
        <p>{t("devices.only_there")}</p>
      </Notice>
    );
  }
  return (
    <div class="stack">
      <h1>{t("view.devices")}</h1>
      {known.lan ? (
        <Button kind="main" onPress={() => void begin()}>
          {t("devices.pair")}
        </Button>
      ) : (
        <Notice heading={t("devices.no_lan")}>
          <p>{t("devices.no_lan.todo")}</p>
        </Notice>
      )}
      {problem && <ProblemNotice problem={problem} />}
      {pairing && (
        <section class="card stack" aria-live="polite">
          <h2>{t("devices.code")}</h2>
          <div class="devices-pair">
            {/* Drawn by this program's own server from its own address. */}
            <div
              class="devices-qr"
              role="img"
              aria-label={t("devices.qr", { url: pairing.url })}
              dangerouslySetInnerHTML={{ __html: pairing.qr }}
            />
            <div class="stack">
              <p class="devices-code">{pairing.code}</p>
              <p>{t("devices.code.todo", { url: pairing.url })}</p>
              <p>{t("devices.code.until", { when: time.format(new Date(pairing.expires_at)) })}</p>
            </div>
          </div>
          {pairing.fingerprint && (
            <>
              <h3>{t("devices.fingerprint")}</h3>
              <p>{t("devices.fingerprint.why")}</p>
              <p class="devices-fingerprint">{pairing.fingerprint}</p>
            </>
          )}
        </section>
      )}
      <section>
        <h2>{t("devices.paired")}</h2>
        {devices.length === 0 && <p class="quiet">{t("devices.none")}</p>}
        <ul class="plain-list">
          {devices.map((device) => (
            <li key={device.id} class="devices-line">
              <span>
                <strong>{device.name}</strong>{" "}
                <span class="quiet">
                  {device.revoked
                    ? t("devices.revoked")
                    : device.last_seen
                      ? t("devices.seen", { when: time.format(new Date(device.last_seen)) })
                      : ""}
                </span>
              </span>
              {!device.revoked && (
                <Button
                  kind="stop"
                  label={t("devices.revoke_one", { name: device.name })}
                  onPress={() => void revoke(device)}
                >
                  {t("devices.revoke")}
                </Button>
              )}
            </li>
          ))}
        </ul>
      </section>
    </div>
  );
}
