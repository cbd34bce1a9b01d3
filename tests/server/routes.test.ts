import { beforeAll, describe, expect, it } from 'vitest';
import { AnalysisError } from '../../analysis/errors.ts';
import { readStrip } from '../../analysis/index.ts';
import { parseStrip } from '../../analysis/level/parseStrip.ts';
import { parseMarks } from '../../analysis/locate/parseMarks.ts';
import { decodePhoto } from '../../analysis/photo/decode.ts';
import type { Reading as AnalysisReading } from '../../analysis/reading.ts';
import {
  demoAnswer,
  demoList,
  previewAnswer,
  type ReadingAnswer,
  readingAnswer,
} from '../../server/contracts/answers.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { type Reading, reading as readingShape } from '../../server/contracts/reading.ts';
import { Refusal } from '../../server/refusal.ts';
import { demoFiles, directAnalyst, formOf, serverUnderTest } from '../helpers/serverUnderTest.ts';

const server = serverUnderTest();
const hemp = demoFiles('hemp-banner-blue');
const errorOf = async (response: Response) => errorAnswer.parse(await response.json()).error;

describe('POST /api/readings', () => {
  let answer: ReadingAnswer;

  beforeAll(async () => {
    const response = await server.post('/api/readings', formOf(hemp));
    expect(response.status).toBe(200);
    answer = readingAnswer.parse(await response.json());
  });

  it('answers what the pipeline reads from the same photo, strip and marks', async () => {
    const direct = await readStrip(hemp.photo, parseStrip(JSON.parse(hemp.strip)), {
      marks: parseMarks(JSON.parse(hemp.marks)),
    });
    expect(answer.reading).toEqual(JSON.parse(JSON.stringify(direct)));
  });

  it('answers a reading that its contract holds whole: nothing is left out of it', () => {
    expect(readingShape.parse(answer.reading)).toEqual(answer.reading);
  });

  it('has a contract and an analysis that name the same type', () => {
    const out = (reading: AnalysisReading): Reading => reading;
    const back = (reading: Reading): AnalysisReading => reading;
    expect(back(out(answer.reading))).toBe(answer.reading);
  });

  it('shows the photo as a JPEG of its own proportions', async () => {
    const { href, photoWidthPx, photoHeightPx } = answer.preview;
    const response = await server.get(href);
    expect(response.headers.get('content-type')).toBe('image/jpeg');
    const preview = await decodePhoto(new Uint8Array(await response.arrayBuffer()));
    expect([photoWidthPx, photoHeightPx]).toEqual([
      answer.reading.photo.widthPx,
      answer.reading.photo.heightPx,
    ]);
    expect(preview.widthPx / preview.heightPx).toBeCloseTo(photoWidthPx / photoHeightPx, 2);
  });

  it('answers for the target that was sent', async () => {
    const target = { kind: 'L', L: 45 };
    const response = await server.post('/api/readings', formOf({ ...hemp, target: JSON.stringify(target) }));
    const { reading } = readingAnswer.parse(await response.json());
    expect(reading.advice.target).toEqual(target);
    expect(reading.advice.targetL).toBe(45);
    expect(reading.advice.seconds).toBeLessThan(answer.reading.advice.seconds ?? 0);
  });

  it('is not kept by the browser', async () => {
    const response = await server.get('/api/demos');
    expect(response.headers.get('cache-control')).toBe('no-store');
  });

  it.each([
    ['no photo', { strip: hemp.strip }, 400, 'request-invalid'],
    ['text in place of a photo', { photo: 'hello', strip: hemp.strip }, 400, 'request-invalid'],
    ['an empty photo', { photo: new Uint8Array(), strip: hemp.strip }, 400, 'request-invalid'],
    [
      'a text file',
      { photo: new TextEncoder().encode('no photo'), strip: hemp.strip },
      415,
      'photo-format-unsupported',
    ],
    ['half a photo', { photo: hemp.photo.slice(0, 9000), strip: hemp.strip }, 422, 'photo-damaged'],
    ['no strip', { photo: hemp.photo }, 400, 'strip-invalid'],
    ['a strip that is no JSON', { photo: hemp.photo, strip: '{' }, 400, 'request-invalid'],
    [
      'falling times',
      { photo: hemp.photo, strip: '{"card":"grey-18","steps":[{"seconds":9},{"seconds":3}]}' },
      400,
      'strip-invalid',
    ],
    [
      'an unknown card',
      { photo: hemp.photo, strip: '{"card":"pink","steps":[{"seconds":9}]}' },
      400,
      'card-invalid',
    ],
    ['empty marks', { ...hemp, marks: '{"card":[],"steps":[]}' }, 400, 'marks-invalid'],
    ['a depth of 140 %', { ...hemp, target: '{"kind":"depth","percent":140}' }, 400, 'target-invalid'],
  ] as const)('refuses %s', async (_, fields, status, code) => {
    const response = await server.post('/api/readings', formOf(fields));
    expect(response.status).toBe(status);
    const error = await errorOf(response);
    expect(error.code).toBe(code);
    expect(error.message).not.toMatch(/\/[a-z]+\/|node_modules|\.ts\b|at \w+ \(/);
  });

  it('refuses marks outside the photo', async () => {
    const far = JSON.parse(hemp.marks);
    far.steps[0].quad = [
      [5000, 5000],
      [5100, 5000],
      [5100, 5100],
      [5000, 5100],
    ];
    const response = await server.post('/api/readings', formOf({ ...hemp, marks: JSON.stringify(far) }));
    expect(response.status).toBe(422);
    expect((await errorOf(response)).code).toBe('marks-outside-photo');
  });

  it('refuses a body that is no form', async () => {
    for (const type of ['application/json', 'multipart/form-data; boundary=missing']) {
      const response = await server.post('/api/readings', 'no form', { 'content-type': type });
      expect(response.status).toBe(400);
      expect((await errorOf(response)).code).toBe('request-invalid');
    }
  });
});

describe('a reading and its preview', () => {
  it('take one turn of the worker, and the preview is then there without another', async () => {
    const turns: string[] = [];
    const counted = serverUnderTest({
      ...directAnalyst,
      read: (task) => {
        turns.push('read');
        return directAnalyst.read(task);
      },
      readAndPreview: (task) => {
        turns.push('read-and-preview');
        return directAnalyst.readAndPreview(task);
      },
      preview: (task) => {
        turns.push('preview');
        return directAnalyst.preview(task);
      },
    });
    const response = await counted.post('/api/readings', formOf(hemp));
    const { preview } = readingAnswer.parse(await response.json());
    expect((await counted.get(preview.href)).status).toBe(200);
    await counted.post('/api/previews', formOf({ photo: hemp.photo }));
    await counted.post('/api/readings', formOf(hemp));
    expect(turns).toEqual(['read-and-preview', 'read']);
  });
});

describe('POST /api/previews', () => {
  it('says early how large the upright photo is: 1000 × 750 px', async () => {
    const response = await server.post('/api/previews', formOf({ photo: hemp.photo }));
    const { preview } = previewAnswer.parse(await response.json());
    expect([preview.photoWidthPx, preview.photoHeightPx]).toEqual([1000, 750]);
    expect((await server.get(preview.href)).status).toBe(200);
  });

  it('says early that a file is no photo', async () => {
    const response = await server.post(
      '/api/previews',
      formOf({ photo: new TextEncoder().encode('%PDF-1.7') }),
    );
    expect((await errorOf(response)).code).toBe('photo-format-unsupported');
  });
});

describe('GET /api/demos', () => {
  it('lists the demo strips in the order of their manifest', async () => {
    const { demos } = demoList.parse(await (await server.get('/api/demos')).json());
    expect(demos.length).toBeGreaterThanOrEqual(2);
    expect(demos[0].id).toBe('hemp-banner-blue');
  });

  it('reads each demo with the pipeline, and serves its photo as it was taken', async () => {
    const { demos } = demoList.parse(await (await server.get('/api/demos')).json());
    for (const { id } of demos) {
      const response = await server.get(`/api/demos/${id}`);
      const demo = demoAnswer.parse(await response.json());
      expect(demo.reading.steps.map((step) => step.seconds)).toEqual(
        demo.strip.steps.map((step) => step.seconds),
      );
      const photo = new Uint8Array(await (await server.get(demo.photoHref)).arrayBuffer());
      expect(photo).toEqual(demoFiles(id).photo);
    }
  });

  it('reads a demo once and answers from memory after that', async () => {
    let readings = 0;
    const counting = serverUnderTest({
      ...directAnalyst,
      read: (task) => {
        readings += 1;
        return directAnalyst.read(task);
      },
    });
    const [one, other] = await Promise.all([
      counting.get('/api/demos/hemp-banner-blue'),
      counting.get('/api/demos/hemp-banner-blue'),
    ]);
    expect(await one.text()).toBe(await other.text());
    expect(readings).toBe(1);
  });

  it('reads with the marks of the manifest where the finder finds nothing', async () => {
    const blind = serverUnderTest({
      ...directAnalyst,
      read: async (task) => {
        if (!task.marks)
          throw new AnalysisError('strip-not-found', 'Nothing that looks like a strip was found.');
        return directAnalyst.read(task);
      },
    });
    const demo = demoAnswer.parse(await (await blind.get('/api/demos/hemp-banner-blue')).json());
    expect(demo.reading.marks.steps.every((step) => step.origin === 'hand')).toBe(true);
  });
});

describe('addresses that lead nowhere', () => {
  it.each([
    '/api/demos/no-such-demo',
    '/api/demos/..%2Fmanifest',
    '/api/demos/no-such-demo/photo',
    '/api/previews/0123456789abcdef0123456789abcdef.jpg',
    '/api/nothing',
    '/nothing.html',
    '/..%2Fpackage.json',
    '/%2e%2e/package.json',
    '/assets/../../package.json',
  ])('answer 404 and no file: %s', async (path) => {
    const response = await server.get(path);
    expect(response.status).toBe(404);
    expect((await errorOf(response)).code).toBe('not-found');
  });

  it('answer 404 to a method that they do not take', async () => {
    const response = await server.post('/api/demos', formOf({}));
    expect(response.status).toBe(404);
  });
});

describe('trouble inside', () => {
  it('is logged, and answered without a word of where it happened', async () => {
    const broken = serverUnderTest({
      ...directAnalyst,
      readAndPreview: async () => {
        throw new Error('cannot open /home/someone/secret.icc');
      },
    });
    const response = await broken.post('/api/readings', formOf(hemp));
    expect(response.status).toBe(500);
    const text = await response.text();
    expect(errorAnswer.parse(JSON.parse(text)).error.code).toBe('internal');
    expect(text).not.toContain('secret');
    expect(broken.logged.join()).toContain('secret.icc');
  });

  it('answers a full queue with 503 and when to come back', async () => {
    const full = serverUnderTest({
      ...directAnalyst,
      preview: async () => {
        throw new Refusal('busy', 'Still reading other photos.', 5);
      },
    });
    const response = await full.post('/api/previews', formOf({ photo: hemp.photo }));
    expect(response.status).toBe(503);
    expect(response.headers.get('retry-after')).toBe('5');
    expect((await errorOf(response)).code).toBe('busy');
  });

  it('does not log refusals as faults', () => {
    expect(server.logged).toEqual([]);
  });
});

describe('GET /', () => {
  it('serves the page, to be asked for anew each time', async () => {
    const response = await server.get('/');
    expect(response.headers.get('content-type')).toContain('text/html');
    expect(response.headers.get('cache-control')).toBe('no-cache');
    expect(await response.text()).toContain('<title>Tonestep</title>');
  });
});
