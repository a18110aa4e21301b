// GET /api/shop: what holds for whoever works here, whichever piano.
import type { Setting } from "./types.ts";

export interface Shop {
  settings: Setting[];
  /** GET /api/shop/logo; null: none. */
  logo: { media_type: string; bytes: number } | null;
  backup: { folder: string; last_at: string | null; kept: number } | null;
}
