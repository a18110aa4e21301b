// Not there yet.
export function NoteView() {
  return null;
}
