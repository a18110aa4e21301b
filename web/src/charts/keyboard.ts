// A keyboard as it is built, in millimetres along its front: where every key lies.
import { isSharp } from "../quantities/notes.ts";

/** Width of a natural with its gap; an octave of seven is 164.5 mm (common practice, no source). */
export const natural_mm = 23.5;
const sharp_mm = 13.7;
/** How far a sharp stands off the line between its naturals: C♯ and F♯ to the left, D♯ and A♯ to the right. */
const off_mm: Record<number, number> = { 1: -2.3, 3: 2.3, 6: -3.2, 8: 0, 10: 3.2 };

export interface KeyPlace {
  key: number;
  sharp: boolean;
  left: number;
  width: number;
  middle: number;
}

/** Places of the keys from `first` to `last`, the lowest at 0. */
export function keyPlaces(first: number, last: number): KeyPlace[] {
  let naturals = 0;
  const places: KeyPlace[] = [];
  for (let key = first; key <= last; key++) {
    const sharp = isSharp(key);
    const left = sharp ? naturals * natural_mm + (off_mm[(key + 8) % 12] ?? 0) - sharp_mm / 2 : naturals * natural_mm;
    const width = sharp ? sharp_mm : natural_mm;
    if (!sharp) naturals++;
    places.push({ key, sharp, left, width, middle: left + width / 2 });
  }
  const least = Math.min(0, places[0]?.left ?? 0);
  return places.map((place) => ({ ...place, left: place.left - least, middle: place.middle - least }));
}
export function keyboardWidth(places: readonly KeyPlace[]): number {
  return Math.max(natural_mm, ...places.map((place) => place.left + place.width));
}

/** The key under a finger: `x` in mm; above the fronts of the sharps, a sharp comes first. */
export function keyAt(places: readonly KeyPlace[], x: number, onSharps: boolean): number {
  const under = places.filter((place) => x >= place.left && x < place.left + place.width);
  const sharp = under.find((place) => place.sharp);
  const found = onSharps && sharp ? sharp : under.find((place) => !place.sharp);
  if (found) return found.key;
  return x <= 0 ? (places[0]?.key ?? 1) : (places[places.length - 1]?.key ?? 88);
}
/** The key whose middle is nearest: for a finger in the lanes, where sharps are as wide as naturals. */
export function nearestKey(places: readonly KeyPlace[], x: number): number {
  let best = places[0];
  for (const place of places) if (best && Math.abs(place.middle - x) < Math.abs(best.middle - x)) best = place;
  return best?.key ?? 1;
}
