// Which view is shown: the address behind '#' says so.
export function App() {
  return <main />;
}
