import { z } from 'zod';
import { demoAnswer, demoList, previewAnswer, readingAnswer } from './answers.ts';
import { comparisonAnswer, comparisonQuestion } from './comparison.ts';
import { doorEndpoints } from './doorEndpoints.ts';
import { driftAnswer, driftQuestion } from './drift.ts';
import type { Endpoint } from './endpoint.ts';
import { type ErrorCode, photoFileCodes } from './errors.ts';
import { bedForm, evennessAnswer, evennessQuestion } from './evenness.ts';
import { exchangeEndpoints } from './exchangeEndpoints.ts';
import { lookAnswer, lookQuestion, photoKey } from './look.ts';
import { marks, taps } from './marks.ts';
import { planAnswer, planQuestion } from './plan.ts';
import { readOptions } from './readOptions.ts';
import {
  againRequest,
  keepForm,
  keptReading,
  MOST_FURTHER,
  readingFilter,
  readingList,
} from './recordReadings.ts';
import { away, id, page, sha256 } from './recordText.ts';
import {
  batch,
  batchFields,
  card,
  cardFields,
  cloth,
  clothFields,
  dye,
  dyeFields,
  light,
  lightFields,
  newPlanFields,
  plan,
  planFields,
} from './recordThings.ts';
import {
  bookAnswer,
  control,
  controlFields,
  controlList,
  feedback,
  feedbackQuery,
  health,
  note,
  noteFields,
  noteList,
  noteQuery,
  print,
  printFields,
  printList,
  printReached,
  rowName,
  rowState,
  today,
  todayQuestion,
  useQuery,
} from './recordUse.ts';
import { stripDescription } from './strip.ts';
import { target } from './target.ts';
import { transferAnswer, transferQuestion } from './transfer.ts';

const json = (schema: z.ZodType) => ({ status: 200, type: 'application/json', schema }) as const;
const made = (schema: z.ZodType) => ({ status: 201, type: 'application/json', schema }) as const;
const sent = (schema: z.ZodType) => ({ type: 'application/json', schema }) as const;
const form = (schema: z.ZodType) => ({ type: 'multipart/form-data', schema }) as const;

const byId = z.object({ id });
const listQuery = z.object({ away, ...page });

/** Refusals of a book that can't be used just now. */
const BOOK: readonly ErrorCode[] = ['book-unavailable', 'book-busy'];
/** The same for what writes into it. */
const WRITES: readonly ErrorCode[] = [
  ...BOOK,
  'request-invalid',
  'disk-full',
  'book-read-only',
  'book-conflict',
];
/** Refusals of reading a photo. */
const READS: readonly ErrorCode[] = [
  ...photoFileCodes,
  'strip-invalid',
  'card-invalid',
  'marks-invalid',
  'marks-outside-photo',
  'marks-too-small',
  'card-not-found',
  'strip-not-found',
  'card-unusable',
  'target-invalid',
  'upload-too-large',
  'busy',
  'timed-out',
];
/** Refusals of a question about kept readings. */
const ASKS: readonly ErrorCode[] = ['request-invalid', 'upload-too-large', 'busy', 'timed-out'];

/** List, make and change of one kind of thing. */
const things = (
  path: string,
  one: string,
  many: string,
  row: z.ZodType,
  fields: z.ZodObject,
  newFields: z.ZodObject = fields,
): readonly Endpoint[] => [
  {
    method: 'get',
    path: `/api/record/${path}`,
    visitors: 'book',
    summary: `${many} in the book, by name`,
    query: listQuery,
    response: json(z.object({ [path]: z.array(row), total: z.number().int() })),
    errors: [...BOOK, 'request-invalid'],
  },
  {
    method: 'post',
    path: `/api/record/${path}`,
    visitors: 'book',
    summary: `Write ${one} into the book`,
    request: sent(newFields),
    response: made(row),
    errors: WRITES,
  },
  {
    method: 'patch',
    path: `/api/record/${path}/{id}`,
    visitors: 'book',
    summary: `Change what the book says of ${one}; fields left out stay`,
    params: byId,
    request: sent(fields.partial()),
    response: json(row),
    errors: [...WRITES, 'not-found'],
  },
];

export const readingEndpoints: readonly Endpoint[] = [
  {
    method: 'get',
    path: '/api/health',
    visitors: 'phone',
    summary: 'Does the server run, and can it use its book?',
    response: json(health),
    errors: [],
  },
  {
    method: 'get',
    path: '/api/demos',
    visitors: 'phone',
    summary: 'Demo strips of this package',
    response: json(demoList),
    errors: [],
  },
  {
    method: 'get',
    path: '/api/demos/{id}',
    visitors: 'phone',
    summary: 'One demo strip as the pipeline reads it',
    params: z.object({ id: z.string() }),
    response: json(demoAnswer),
    errors: ['not-found', 'busy', 'timed-out'],
  },
  {
    method: 'get',
    path: '/api/demos/{id}/photo',
    visitors: 'phone',
    summary: "A demo strip's photo",
    params: z.object({ id: z.string() }),
    response: { status: 200, type: 'image/jpeg' },
    errors: ['not-found'],
  },
  {
    method: 'post',
    path: '/api/previews',
    visitors: 'phone',
    summary: 'Make a small picture of a photo',
    request: form(z.object({ photo: z.file() })),
    response: json(previewAnswer),
    errors: ['request-invalid', ...READS],
  },
  {
    method: 'get',
    path: '/api/previews/{file}',
    visitors: 'phone',
    summary: 'The small picture',
    params: z.object({ file: z.string() }),
    response: { status: 200, type: 'image/jpeg' },
    errors: ['not-found'],
  },
  {
    method: 'post',
    path: '/api/readings',
    visitors: 'phone',
    summary: 'Read a photo of a strip; nothing is kept',
    request: form(
      z.object({
        photo: z.file().exactOptional(),
        /** In place of a photo that the server still holds: the key that came with its small picture. */
        photoKey: photoKey.exactOptional(),
        strip: stripDescription,
        marks: marks.exactOptional(),
        taps: taps.exactOptional(),
        target: target.exactOptional(),
        /** Further photos of the same strip, turned or taken anew. */
        also: z.array(z.file()).max(MOST_FURTHER).exactOptional(),
        /** In place of further photos that the server still holds. */
        alsoKeys: z.array(photoKey).max(MOST_FURTHER).exactOptional(),
        alsoMarks: z.array(marks.nullable()).max(MOST_FURTHER).exactOptional(),
        ...readOptions.unwrap().shape,
      }),
    ),
    response: json(readingAnswer),
    errors: ['request-invalid', 'photo-forgotten', ...READS],
  },
  {
    method: 'post',
    path: '/api/steps',
    visitors: 'phone',
    summary: 'What the steps come to under moved marks, of photos that the server still holds',
    request: sent(lookQuestion),
    response: json(lookAnswer),
    errors: ['request-invalid', 'photo-forgotten', ...READS],
  },
  {
    method: 'post',
    path: '/api/plans',
    visitors: 'phone',
    summary: 'Plan a test strip: times, moves of the cover, labels, what to mind',
    request: sent(planQuestion),
    response: json(planAnswer),
    errors: ['plan-invalid', 'target-invalid', ...ASKS],
  },
  {
    method: 'post',
    path: '/api/comparisons',
    visitors: 'phone',
    summary: 'Compare dyes on one cloth by their readings',
    request: sent(comparisonQuestion),
    response: json(comparisonAnswer),
    errors: ['comparison-invalid', ...ASKS],
  },
  {
    method: 'post',
    path: '/api/transfers',
    visitors: 'phone',
    summary: 'Restate recorded times for another light by control scraps',
    request: sent(transferQuestion),
    response: json(transferAnswer),
    errors: ['comparison-invalid', 'target-invalid', ...ASKS],
  },
  {
    method: 'post',
    path: '/api/drifts',
    visitors: 'phone',
    summary: 'Chart control scraps: is the light steady, drifting, or did one jump?',
    request: sent(driftQuestion),
    response: json(driftAnswer),
    errors: ['comparison-invalid', ...ASKS],
  },
  {
    method: 'post',
    path: '/api/evenness',
    visitors: 'phone',
    summary: 'Map how even the light is over the bed, from one photo of a sheet or two',
    request: form(bedForm),
    response: json(evennessAnswer),
    errors: ['comparison-invalid', ...ASKS, ...READS],
  },
  {
    method: 'post',
    path: '/api/evenness/cells',
    visitors: 'phone',
    summary: 'The same from cells that were read elsewhere',
    request: sent(evennessQuestion),
    response: json(evennessAnswer),
    errors: ['comparison-invalid', ...ASKS],
  },
];

export const recordEndpoints: readonly Endpoint[] = [
  {
    method: 'get',
    path: '/api/record',
    visitors: 'book',
    summary: 'What book this is, and how much is in it',
    response: json(bookAnswer),
    errors: BOOK,
  },
  ...things('dyes', 'a dye', 'Dyes', dye, dyeFields),
  ...things('cloths', 'a cloth', 'Cloths', cloth, clothFields),
  ...things('lights', 'a light', 'Lights', light, lightFields),
  ...things('batches', 'a batch of sensitiser', 'Batches of sensitiser', batch, batchFields),
  ...things('cards', 'a card', 'Cards', card, cardFields),
  ...things('plans', 'a strip plan', 'Strip plans', plan, planFields, newPlanFields),
  {
    method: 'get',
    path: '/api/record/readings',
    visitors: 'book',
    summary: 'Kept readings, newest exposure first',
    query: readingFilter,
    response: json(readingList),
    errors: [...BOOK, 'request-invalid'],
  },
  {
    method: 'post',
    path: '/api/record/readings',
    visitors: 'book',
    summary: 'Read a photo of a strip and keep photo and reading',
    request: form(keepForm),
    response: made(keptReading),
    errors: [...WRITES, ...READS, 'marks-unconfirmed', 'book-incomplete', 'not-found'],
  },
  {
    method: 'get',
    path: '/api/record/readings/{id}',
    visitors: 'book',
    summary: 'One kept reading, whole',
    params: byId,
    response: json(keptReading),
    errors: [...BOOK, 'not-found'],
  },
  {
    method: 'post',
    path: '/api/record/readings/{id}/again',
    visitors: 'book',
    summary: 'Read its photo again and keep that as a new reading that points to the old',
    params: byId,
    request: sent(againRequest),
    response: made(keptReading),
    errors: [...WRITES, ...READS, 'marks-unconfirmed', 'not-found', 'photo-lost'],
  },
  {
    method: 'get',
    path: '/api/record/photos/{sha256}',
    visitors: 'book',
    summary: 'A kept photo as it was sent',
    params: z.object({ sha256 }),
    response: { status: 200, type: 'image/*' },
    errors: [...BOOK, 'not-found', 'photo-lost'],
  },
  {
    method: 'get',
    path: '/api/record/photos/{sha256}/preview',
    visitors: 'book',
    summary: 'Make a small picture of a kept photo',
    params: z.object({ sha256 }),
    response: json(previewAnswer),
    errors: [...BOOK, ...READS, 'not-found', 'photo-lost'],
  },
  {
    method: 'get',
    path: '/api/record/controls',
    visitors: 'book',
    summary: 'Control scraps, newest exposure first',
    query: useQuery,
    response: json(controlList),
    errors: [...BOOK, 'request-invalid'],
  },
  {
    method: 'post',
    path: '/api/record/controls',
    visitors: 'book',
    summary: 'Keep a control scrap, held against a calibration',
    request: sent(controlFields),
    response: made(control),
    errors: [...WRITES, 'not-found', 'no-calibration', 'comparison-invalid'],
  },
  {
    method: 'get',
    path: '/api/record/prints',
    visitors: 'book',
    summary: 'Prints made, newest first',
    query: useQuery,
    response: json(printList),
    errors: [...BOOK, 'request-invalid'],
  },
  {
    method: 'post',
    path: '/api/record/prints',
    visitors: 'book',
    summary: 'Keep a print that was made: time used, depth predicted and reached',
    request: sent(printFields),
    response: made(print),
    errors: [...WRITES, 'not-found'],
  },
  {
    method: 'patch',
    path: '/api/record/prints/{id}',
    visitors: 'book',
    summary: 'Say what depth a print reached',
    params: byId,
    request: sent(printReached),
    response: json(print),
    errors: [...WRITES, 'not-found'],
  },
  {
    method: 'get',
    path: '/api/record/notes',
    visitors: 'book',
    summary: 'Notes on one row of the book',
    query: noteQuery,
    response: json(noteList),
    errors: [...BOOK, 'request-invalid'],
  },
  {
    method: 'post',
    path: '/api/record/notes',
    visitors: 'book',
    summary: 'Write a note on a row of the book',
    request: sent(noteFields),
    response: made(note),
    errors: [...WRITES, 'not-found'],
  },
  {
    method: 'post',
    path: '/api/record/put-away',
    visitors: 'book',
    summary: 'Put a row away; nothing is deleted',
    request: sent(rowName),
    response: json(rowState),
    errors: [...WRITES, 'not-found'],
  },
  {
    method: 'post',
    path: '/api/record/bring-back',
    visitors: 'book',
    summary: 'Bring back a row that was put away',
    request: sent(rowName),
    response: json(rowState),
    errors: [...WRITES, 'not-found'],
  },
  {
    method: 'post',
    path: '/api/record/today',
    visitors: 'book',
    summary: 'How long today, for this dye, cloth, light and target?',
    request: sent(todayQuestion),
    response: json(today),
    errors: [...BOOK, 'request-invalid', 'not-found', 'target-invalid'],
  },
  {
    method: 'get',
    path: '/api/record/feedback',
    visitors: 'book',
    summary: 'Prints made: reached against predicted depth, and the bias',
    query: feedbackQuery,
    response: json(feedback),
    errors: [...BOOK, 'request-invalid'],
  },
];

/** Every address of the server but the page's own files. */
export const ENDPOINTS: readonly Endpoint[] = [
  ...readingEndpoints,
  ...recordEndpoints,
  ...exchangeEndpoints,
  ...doorEndpoints,
];
