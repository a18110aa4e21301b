// An answer of the server that a view fetches for itself and that follows the piano's revision.
import { useEffect, useState } from "preact/hooks";
import { get } from "../api/client.ts";
import type { Problem } from "../api/types.ts";
import { steadyRevision } from "./piano.ts";

export interface Answer<T> {
  /** Stays while a newer one is fetched for the same path. */
  value: T | null;
  problem: Problem | null;
  loading: boolean;
  again: () => void;
}

/** GET `path` (null: nothing), again whenever it or the piano's revision changes. */
export function useAnswer<T>(path: string | null): Answer<T> {
  const [state, setState] = useState<{
    path: string | null;
    value: T | null;
    problem: Problem | null;
    loading: boolean;
  }>({ path, value: null, problem: null, loading: path !== null });
  const [turn, setTurn] = useState(0);
  const now = steadyRevision.value;
  useEffect(() => {
    if (path === null) {
      setState({ path, value: null, problem: null, loading: false });
      return;
    }
    const stop = new AbortController();
    setState((old) => ({ ...old, path, value: old.path === path ? old.value : null, loading: true }));
    void get<T>(path, stop.signal).then((answer) => {
      if (stop.signal.aborted) return;
      setState((old) =>
        answer.ok
          ? { path, value: answer.value, problem: null, loading: false }
          : { ...old, path, problem: answer.problem, loading: false },
      );
    });
    return () => stop.abort();
  }, [path, now, turn]);
  return {
    value: state.path === path ? state.value : null,
    problem: state.problem,
    loading: state.loading,
    again: () => setTurn((n) => n + 1),
  };
}
