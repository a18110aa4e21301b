export function DevicesView() {
  return null;
}
