import { spawnSync } from 'node:child_process';
import { createWriteStream, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { describe, expect, it } from 'vitest';
import { ARCHIVE_SCHEMAS } from '../../../server/exchange/archiveSchemas.ts';
import { writeArchive } from '../../../server/exchange/archiveWrite.ts';
import { bookRoom, fillBook, idOf } from './sampleBook.ts';

const FOLDER = join(import.meta.dirname, '../../../docs/schema');
const textOf = (schema: object) => `${JSON.stringify(schema, null, 2)}\n`;

// Run with RENEW=1 after a change of the contracts.
if (process.env.RENEW) {
  mkdirSync(FOLDER, { recursive: true });
  for (const [name, schema] of Object.entries(ARCHIVE_SCHEMAS))
    writeFileSync(join(FOLDER, name), textOf(schema));
}

describe('the published schemas of an archive', () => {
  it.each(Object.entries(ARCHIVE_SCHEMAS))(
    'docs/schema/%s is what the contract says (RENEW=1 npx vitest run tests/server/exchange/archiveSchemas.test.ts renews it)',
    (name, schema) => {
      expect(readFileSync(join(FOLDER, name), 'utf8')).toBe(textOf(schema));
    },
  );
});

/** Validates instances by a schema with python3's jsonschema, another implementation of JSON Schema 2020-12. */
const VALIDATE = `
import json, sys
try:
    import jsonschema
    Validator = jsonschema.Draft202012Validator
except (ImportError, AttributeError):
    sys.exit(3)
schema, instances = json.load(sys.stdin)
Validator.check_schema(schema)
print(json.dumps([[e.message[:200] for e in Validator(schema).iter_errors(i)][:3] for i in instances]))
`;
const validate = (schema: unknown, instances: readonly unknown[]) =>
  spawnSync('python3', ['-c', VALIDATE], { input: JSON.stringify([schema, instances]), encoding: 'utf8' });
const absent = (() => {
  const { error, status } = validate({}, []);
  return error !== undefined || status === 3;
})();

describe.skipIf(absent)(
  'an archive, by its published schemas (skipped without python3-jsonschema)',
  async () => {
    const room = bookRoom();
    const store = await room.book('shop');
    await fillBook(store);
    const { bytes, made } = writeArchive(store);
    await Promise.all([made, pipeline(bytes, createWriteStream(room.path('shop.zip')))]);
    const unpack = (name: string) => {
      const { stdout } = spawnSync(
        'python3',
        [
          '-c',
          'import sys, zipfile; sys.stdout.buffer.write(zipfile.ZipFile(sys.argv[1]).read(sys.argv[2]))',
          room.path('shop.zip'),
          name,
        ],
        { encoding: 'utf8' },
      );
      return JSON.parse(stdout);
    };
    const schema = (name: string) => JSON.parse(readFileSync(join(FOLDER, name), 'utf8'));

    it('is valid: book.json and a reading', () => {
      expect(JSON.parse(validate(schema('book.schema.json'), [unpack('book.json')]).stdout)).toEqual([[]]);
      const reading = unpack(`readings/${idOf(8)}.json`);
      expect(JSON.parse(validate(schema('reading.schema.json'), [reading]).stdout)).toEqual([[]]);
    });

    it('is told from one that is not: a row without its id, a target of L* 400', () => {
      const book = unpack('book.json');
      delete book.dyes[0].id;
      const [errors] = JSON.parse(validate(schema('book.schema.json'), [book]).stdout);
      expect(errors.join()).toContain("'id' is a required property");
      const file = unpack(`readings/${idOf(8)}.json`);
      file.reading.advice.target = { kind: 'L', L: 400 };
      expect(JSON.parse(validate(schema('reading.schema.json'), [file]).stdout)[0].length).toBeGreaterThan(0);
    });
  },
);
