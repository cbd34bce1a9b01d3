import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, describe, expect, it } from 'vitest';
import { loadPageFiles } from '../../server/pageFiles.ts';

const folder = mkdtempSync(join(tmpdir(), 'tonestep-page-'));
mkdirSync(join(folder, 'assets'));
writeFileSync(join(folder, 'index.html'), '<!doctype html>');
writeFileSync(join(folder, 'assets', 'page-ab12.js'), 'export {};');
writeFileSync(join(folder, 'notes.txt'), 'not for serving');
afterAll(() => rmSync(folder, { recursive: true }));

describe('loadPageFiles', () => {
  const files = loadPageFiles(folder);

  it('knows the page’s own kinds of file and no others', () => {
    expect([...files.keys()].sort()).toEqual(['/assets/page-ab12.js', '/index.html']);
  });

  it('keeps fingerprinted files for good and the page itself not', () => {
    expect(files.get('/assets/page-ab12.js')).toMatchObject({
      lasting: true,
      type: 'text/javascript; charset=utf-8',
    });
    expect(files.get('/index.html')?.lasting).toBe(false);
  });

  it('holds a gzip of the same bytes', () => {
    const file = files.get('/assets/page-ab12.js');
    expect(gunzipSync(file?.gzipped ?? new Uint8Array()).toString()).toBe('export {};');
  });
});
