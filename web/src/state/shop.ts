// What holds for the workshop, whichever piano is open; fetched when a view first wants it.
import { signal } from "@preact/signals";
import { get } from "../api/client.ts";
import type { Shop } from "../api/shop_types.ts";
import type { Problem } from "../api/types.ts";

export const shop = signal<Shop | null>(null);
export const shopProblem = signal<Problem | null>(null);
/** Grows with every logo, so that the picture is fetched anew. */
export const logoTurn = signal(0);

export async function loadShop(): Promise<void> {
  const answer = await get<Shop>("/api/shop");
  if (answer.ok) shop.value = answer.value;
  shopProblem.value = answer.ok ? null : answer.problem;
}
let asked = false;
/** Asks once; a view that shows it asks again by loadShop. */
export function wantShop(): void {
  if (asked) return;
  asked = true;
  void loadShop();
}

/** Its value; null where it is not chosen. */
export function shopSetting(name: string): string | null {
  return shop.value?.settings.find((one) => one.name === name)?.value || null;
}
