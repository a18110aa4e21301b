// Not there yet.
export function WorklistView() {
  return null;
}
