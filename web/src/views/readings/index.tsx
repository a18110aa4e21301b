// Not there yet.
export function ReadingsView() {
  return null;
}
