import type { DemoSummary } from '../../server/contracts/answers.ts';
import { words } from '../words.ts';

type DemoWords = { readonly title: string; readonly story: string };

/** A demo's title and story in the language that is spoken; its own English ones where that has none. */
export const demoText = ({ id, title, story }: DemoSummary): DemoWords & { readonly inEnglish: boolean } => {
  const known = (words.demo as Readonly<Record<string, DemoWords>>)[id];
  return known ? { ...known, inEnglish: false } : { title, story, inEnglish: true };
};
