// Keeps the screen on while the view is open, where the browser allows it.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";

/** null: not asked yet. */
export const awake = signal<boolean | null>(null);

export function useAwake(): void {
  useEffect(() => {
    let lock: WakeLockSentinel | null = null;
    let open = true;
    const ask = async () => {
      if (!("wakeLock" in navigator)) {
        awake.value = false;
        return;
      }
      if (document.visibilityState !== "visible" || (lock && !lock.released)) return;
      try {
        const got = await navigator.wakeLock.request("screen");
        if (!open) return void got.release();
        lock = got;
        awake.value = true;
        got.addEventListener("release", () => open && (awake.value = false));
      } catch {
        // Refused: low battery, or a page that may not.
        awake.value = false;
      }
    };
    const onShow = () => void ask();
    void ask();
    document.addEventListener("visibilitychange", onShow);
    return () => {
      open = false;
      document.removeEventListener("visibilitychange", onShow);
      void lock?.release();
    };
  }, []);
}
