// Not there yet.
export function HandoverView() {
  return null;
}
