import type { Context } from 'hono';
import { accepts } from 'hono/accepts';
import { LANGUAGES, type PaperLanguage, paperLanguage } from './contracts/language.ts';

/**
 * The language that a request wants a paper in: the one it names, else the first of its Accept-Language that there are
 * words for (`de-AT` takes German), else English.
 */
export const spokenLanguage = (c: Context, named: PaperLanguage | undefined): PaperLanguage =>
  named ??
  paperLanguage.parse(
    accepts(c, {
      header: 'Accept-Language',
      supports: [...LANGUAGES],
      default: 'en',
      match: (wished, { supports, default: none }) =>
        wished
          .toSorted((a, b) => b.q - a.q)
          .filter(({ q }) => q > 0)
          .map(({ type }) => type.toLowerCase().split('-')[0])
          .find((tag) => supports.includes(tag)) ?? none,
    }),
  );
