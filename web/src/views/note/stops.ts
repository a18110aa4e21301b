// Where a slow press is worth a look.
export type Stop = readonly [name: "rest" | "let-off" | "drop" | "bottom", depth: number];

/** The next mark below the depth; from the bottom back to rest. */
export function nextStop(list: readonly Stop[], from: number): number {
  return (list.find(([, at]) => at > from + 1e-6) ?? list[0])?.[1] ?? 0;
}
