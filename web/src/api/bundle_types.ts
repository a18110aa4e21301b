// POST /api/bundles: a piano's file read in.
export interface BundleRead {
  piano: { id: string; name: string };
  /** Entries that were new, and those that were here already. */
  added: number;
  already_there: number;
  /** Another piano here had its name. */
  renamed: boolean;
}
