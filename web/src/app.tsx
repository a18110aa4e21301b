// The frame around every view: which piano, whether it is heard, which view, and the strip at the foot.
import { effect } from "@preact/signals";
import { useEffect, useRef } from "preact/hooks";
import { Strip } from "./charts/strip.tsx";
import { ProblemNotice } from "./controls/index.ts";
import { LinkState } from "./shell/link_state.tsx";
import { Menu } from "./shell/menu.tsx";
import { Pair } from "./shell/pair.tsx";
import { RefusedEntries } from "./shell/refused.tsx";
import { Tabs, ViewList } from "./shell/tabs.tsx";
import { language } from "./state/choices.ts";
import { head, pianoId, problemOfPiano, strip } from "./state/piano.ts";
import { session, unpaired } from "./state/session.ts";
import { view, where } from "./state/where.ts";
import { BriefView } from "./views/brief/index.tsx";
import { ComplaintView } from "./views/complaint/index.tsx";
import { HandoverView } from "./views/handover/index.tsx";
import { HandsView } from "./views/hands/index.tsx";
import { NoteView } from "./views/note/index.tsx";
import { OverTimeView } from "./views/overtime/index.tsx";
import { DevicesView } from "./views/pianos/devices.tsx";
import { PianosView } from "./views/pianos/index.tsx";
import { ReadingsView } from "./views/readings/index.tsx";
import { SettingsView } from "./views/settings/index.tsx";
import { ShopView } from "./views/shop/index.tsx";
import { WorklistView } from "./views/worklist/index.tsx";
import { t } from "./words/index.ts";

const views = {
  pianos: PianosView,
  devices: DevicesView,
  shop: ShopView,
  readings: ReadingsView,
  brief: BriefView,
  worklist: WorklistView,
  hands: HandsView,
  note: NoteView,
  complaint: ComplaintView,
  handover: HandoverView,
  overtime: OverTimeView,
  settings: SettingsView,
};

/** "Worklist – Hall grand – Batten", in the user's language. */
function followTitle(): void {
  effect(() => {
    const name = pianoId.value ? head.value?.piano.name : undefined;
    document.title = [t(`view.${view.value}`), name, t("app.name")].filter(Boolean).join(" – ");
    document.documentElement.lang = language.value;
  });
}

export function App() {
  const main = useRef<HTMLElement>(null);
  const first = useRef(true);
  useEffect(followTitle, []);
  const shown = view.value;
  const piano = pianoId.value;
  // Another view begins at its top, with the keyboard in it; views may take the focus further.
  useEffect(() => {
    if (!first.current && main.current && !main.current.contains(document.activeElement)) {
      main.current.focus({ preventScroll: true });
      main.current.scrollTop = 0;
    }
    first.current = false;
  }, [shown, piano]);
  const View = views[shown];
  const gone = piano && problemOfPiano.value && !head.value ? problemOfPiano.value : null;
  return (
    <>
      <header class={`shell-head ${piano ? "shell-of-piano" : ""}`}>
        <a
          class="skip"
          href={location.hash || "#/"}
          onClick={(event) => {
            event.preventDefault();
            main.current?.focus();
          }}
        >
          {t("app.skip")}
        </a>
        <div class="shell-piano">
          <a class="shell-home" href="#/">
            {piano ? t("view.pianos") : t("app.name")}
          </a>
          {piano && <span class="shell-name">{head.value?.piano.name}</span>}
        </div>
        {piano && <ViewList />}
        <LinkState />
        <Menu />
      </header>
      {piano && <Tabs />}
      <RefusedEntries />
      <main id="view" ref={main} tabIndex={-1} data-view={where.value.view}>
        {unpaired.value && !session.value ? <Pair /> : gone ? <ProblemNotice problem={gone} /> : <View />}
      </main>
      {piano && strip.value && <Strip />}
    </>
  );
}
