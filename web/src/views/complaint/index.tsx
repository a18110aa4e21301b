// Not there yet.
export function ComplaintView() {
  return null;
}
