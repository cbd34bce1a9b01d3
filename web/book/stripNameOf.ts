import { words } from '../words.ts';

/** What a strip goes by in lists. */
export const stripNameOf = ({ dye, cloth }: { readonly dye: string; readonly cloth: string }): string =>
  [dye, cloth].filter(Boolean).join(' · ') || words.frame.yourStrip;
