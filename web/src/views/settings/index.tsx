// Not there yet.
export function SettingsView() {
  return null;
}
