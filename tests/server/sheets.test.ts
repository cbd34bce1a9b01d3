import { describe, expect, it } from 'vitest';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { serverUnderTest } from '../helpers/serverUnderTest.ts';
import { readPdf } from './papers/readPdf.ts';

const server = serverUnderTest();
const json = { 'Content-Type': 'application/json' };

describe('/api/sheets', () => {
  it('answers GET with the PDF that its query asks for', async () => {
    const response = await server.get(
      '/api/sheets?paper=letter&plan=seaweed-7&dye=kelp%20blue&seconds=0,8,16',
    );
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toBe('application/pdf');
    const { pages, words } = await readPdf(new Uint8Array(await response.arrayBuffer()));
    expect((pages[0].width / 72) * 25.4).toBeCloseTo(279.4, 2);
    expect(words).toContain('kelp blue');
    expect(words).toContain('0 · 8 · 16 s');
  });

  it.each([
    ['the language that is named', '?language=de', 'en', 'de'],
    ['the first that there are words for', '', 'fr, de-AT;q=0.8, en;q=0.5', 'de'],
    ['English over German where it is wanted more', '', 'de;q=0.4, en-GB', 'en'],
    ['English where there are words for none', '', 'fr', 'en'],
    ['not one that is ruled out', '', 'de;q=0', 'en'],
  ])('is in %s', async (_, query, wished, language) => {
    const response = await server.get(`/api/sheets${query}`, { 'Accept-Language': wished });
    expect(response.headers.get('content-language')).toBe(language);
    expect(response.headers.get('vary')).toMatch(/Accept-Language/i);
    const { words } = await readPdf(new Uint8Array(await response.arrayBuffer()));
    expect(words).toContain(language === 'de' ? 'Farbstoff' : 'Cloth');
  });

  it('answers POST with the same PDF as GET, byte for byte', async () => {
    const got = await server.get('/api/sheets?plan=seaweed-7&cloth=hemp');
    const posted = await server.post(
      '/api/sheets',
      JSON.stringify({ plan: 'seaweed-7', cloth: 'hemp' }),
      json,
    );
    expect(posted.status).toBe(200);
    expect(Buffer.from(await posted.arrayBuffer()).equals(Buffer.from(await got.arrayBuffer()))).toBe(true);
  });

  it.each([
    '/api/sheets?paper=a3',
    '/api/sheets?language=fr',
    '/api/sheets?plan=Harbour%20Festival',
    '/api/sheets?seconds=0,eight',
    '/api/sheets?seconds=-1',
    `/api/sheets?dye=${'x'.repeat(81)}`,
    '/api/sheets?colour=red',
  ])('refuses %s with 400', async (path) => {
    const response = await server.get(path);
    expect(response.status).toBe(400);
    const { code, phrase } = errorAnswer.parse(await response.json()).error;
    expect([code, phrase?.id]).toEqual(['request-invalid', 'request-unfit']);
  });
});
