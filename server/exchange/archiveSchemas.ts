import { z } from 'zod';
import { bookFile, readingFile } from '../contracts/archive.ts';
import { portable } from './portableSchema.ts';

const schemaOf = (shape: z.ZodType, title: string, description: string): object => ({
  title,
  description,
  ...z.toJSONSchema(shape, {
    target: 'draft-2020-12',
    io: 'input',
    unrepresentable: 'any',
    override: portable,
  }),
});

/** JSON Schemas of the files in an archive, as docs/schema has them; by the file's name there. */
export const ARCHIVE_SCHEMAS: Readonly<Record<string, object>> = {
  'book.schema.json': schemaOf(bookFile, 'book.json', 'Every row of a Tonestep book.'),
  'reading.schema.json': schemaOf(
    readingFile,
    'readings/ID.json',
    'A kept reading and what it takes to read its photo again. Readings have more than what is fixed here: docs/formats.md.',
  ),
};
