export function Strip() {
  return null;
}
