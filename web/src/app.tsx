// Which view is shown: the address behind '#' says so.
import { Strip } from "./charts/strip.tsx";
import { pianoId, view } from "./state/where.ts";
import { BriefView } from "./views/brief/index.tsx";
import { ComplaintView } from "./views/complaint/index.tsx";
import { HandoverView } from "./views/handover/index.tsx";
import { HandsView } from "./views/hands/index.tsx";
import { NoteView } from "./views/note/index.tsx";
import { PianosView } from "./views/pianos/index.tsx";
import { ReadingsView } from "./views/readings/index.tsx";
import { SettingsView } from "./views/settings/index.tsx";
import { WorklistView } from "./views/worklist/index.tsx";

const views = {
  pianos: PianosView,
  devices: PianosView,
  readings: ReadingsView,
  brief: BriefView,
  worklist: WorklistView,
  hands: HandsView,
  note: NoteView,
  complaint: ComplaintView,
  handover: HandoverView,
  settings: SettingsView,
};

export function App() {
  const View = views[view.value];
  return (
    <>
      <main id="view">
        <View />
      </main>
      {pianoId.value && <Strip />}
    </>
  );
}
