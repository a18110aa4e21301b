// Not there yet.
export function BriefView() {
  return null;
}
