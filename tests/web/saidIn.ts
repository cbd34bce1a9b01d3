import type { Phrase } from '../../analysis/phrases.ts';

/** An English text and the phrase that other languages make it of. */
export interface Sentence {
  readonly place: string;
  readonly text: string;
  readonly phrase: Phrase | undefined;
}

/** Names under which English texts stand that have a phrase beside them; advice is worded from its numbers instead. */
const TEXTS = ['message', 'reason', 'sentence'] as const;

type Fields = Readonly<Record<string, unknown>>;

/** Every sentence in a reading or another answer, by its place. */
export const sentencesIn = (value: unknown, place = ''): Sentence[] => {
  if (Array.isArray(value)) return value.flatMap((one, i) => sentencesIn(one, `${place}[${i}]`));
  if (typeof value !== 'object' || value === null) return [];
  const fields = value as Fields;
  const own = TEXTS.flatMap((name) =>
    typeof fields[name] === 'string' && (name !== 'sentence' || 'phrase' in fields)
      ? [
          {
            place: `${place}.${name}`,
            text: fields[name] as string,
            phrase: fields.phrase as Phrase | undefined,
          },
        ]
      : [],
  );
  const remarks = ((fields.remarks ?? []) as readonly string[]).map((text, i) => ({
    place: `${place}.remarks[${i}]`,
    text,
    phrase: (fields.remarkPhrases as readonly Phrase[] | undefined)?.[i],
  }));
  const inner = Object.entries(fields).flatMap(([name, one]) =>
    name === 'phrase' || name === 'remarkPhrases' ? [] : sentencesIn(one, `${place}.${name}`),
  );
  return [...own, ...remarks, ...inner];
};

const numbersIn = (text: string, decimalSign: string): number[] => {
  const digits = new RegExp(`(?:(\\d+):)?(?:(\\d+):)?(\\d+)(?:\\${decimalSign}(\\d+))?`, 'g');
  return [...text.replace(/ΔE00|P3|D\d\.\d\d/g, '').matchAll(digits)].map(
    ([, first, second, whole, decimals = '0']) => {
      const [h, m] = second === undefined ? [0, Number(first ?? 0)] : [Number(first), Number(second)];
      return 3600 * h + 60 * m + Number(`${whole}.${decimals}`);
    },
  );
};

/** Numbers in an English text: 0.17, 12, and 90 for 1:30. */
export const englishNumbers = (text: string): number[] => numbersIn(text, '.');

/** Numbers in a German one: 0,17 is 0.17. */
export const germanNumbers = (text: string): number[] => numbersIn(text, ',');
