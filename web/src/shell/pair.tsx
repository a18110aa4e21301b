// A device the piano's machine does not know: it gives the code shown there, once.
import { useState } from "preact/hooks";
import { post } from "../api/client.ts";
import type { Problem } from "../api/types.ts";
import { Button, Notice, ProblemNotice, TextField } from "../controls/index.ts";
import { begin } from "../state/begin.ts";
import { t } from "../words/index.ts";

export function Pair() {
  const given = new URLSearchParams(location.search).get("code") ?? "";
  const [code, setCode] = useState(given);
  const [name, setName] = useState("");
  const [problem, setProblem] = useState<Problem | null>(null);
  const pair = async () => {
    const answer = await post<unknown>("/api/pair", { code: code.trim(), name: name.trim() || t("pair.unnamed") });
    if (!answer.ok) {
      setProblem(answer.problem);
      return;
    }
    history.replaceState(null, "", location.pathname + location.hash);
    await begin();
  };
  return (
    <section class="stack pair">
      <h1>{t("pair.title")}</h1>
      <Notice>
        <p>{t("problem.unpaired")}</p>
        <p>{t("problem.unpaired.todo")}</p>
      </Notice>
      {problem && <ProblemNotice problem={problem} />}
      <TextField label={t("pair.code")} value={code} onInput={setCode} autofocus={!given} />
      <TextField
        label={t("pair.name")}
        hint={t("pair.name.hint")}
        value={name}
        onInput={setName}
        onEnter={() => void pair()}
        autofocus={!!given}
      />
      <Button kind="main" onPress={() => void pair()} disabled={code.trim() === ""}>
        {t("pair.do")}
      </Button>
    </section>
  );
}
