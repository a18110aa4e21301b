// Not there yet.
export function HandsView() {
  return null;
}
