// Not there yet.
export function PianosView() {
  return null;
}
