import fc from 'fast-check';
import sharp from 'sharp';
import { shownName } from '../../server/inbox.ts';
import { doorsUnderTest, HOME } from '../helpers/doorsUnderTest.ts';
import { demoFiles } from '../helpers/serverUnderTest.ts';
import { drawn, type Family } from './family.ts';
import { answeredAs } from './outcome.ts';
import { madeWrong, wrongs, wrongValue } from './wrongJson.ts';

const hemp = demoFiles('hemp-banner-blue');

const oddName = fc.oneof(
  fc.constantFrom(
    '../../etc/passwd',
    'C:\\x.jpg',
    'a"; filename="b',
    'x\r\nSet-Cookie: a=b',
    '\0.jpg',
    '\u202Egpj.exe',
    '. ',
    'CON',
    'ä'.repeat(5000),
    '%2e%2e%2f',
  ),
  fc.string({ unit: 'binary', maxLength: 60 }),
);

const SMALL_PHOTO = (
  await sharp({ create: { width: 80, height: 70, channels: 3, background: '#888888' } })
    .jpeg()
    .toBuffer()
).toString('latin1');

/** A form written by hand, the way that no browser writes it. */
const oddForm = fc.record({
  boundary: fc.oneof(
    { arbitrary: fc.constant('b'), weight: 6 },
    fc.constantFrom('b"', '-'.repeat(70), 'é', ''),
  ),
  parts: fc.array(
    fc.record({
      field: fc.constantFrom(
        'photo',
        'photo',
        'photo',
        'strip',
        'strip',
        'marks',
        'target',
        'photo[]',
        '__proto__',
        'name',
        '',
      ),
      name: fc.option(oddName),
      type: fc.constantFrom('', 'image/jpeg', 'text/html', 'x'.repeat(2000)),
      content: fc.oneof(
        { arbitrary: fc.constant(hemp.strip), weight: 2 },
        { arbitrary: fc.constant(SMALL_PHOTO), weight: 4 },
        fc.constantFrom('', '{', 'null', '[]', '\xFF\xD8\xFF\xE0', 'a'.repeat(3000), '--b--\r\n'),
      ),
      end: fc.oneof({ arbitrary: fc.constant('\r\n'), weight: 8 }, fc.constantFrom('\n', '')),
    }),
    { minLength: 1, maxLength: 4 },
  ),
  repeat: fc.constantFrom(1, 1, 1, 1, 1, 1, 300),
  close: fc.constantFrom(true, true, true, true, false),
});

const POSTS = ['/api/readings', '/api/previews', '/api/inbox'] as const;

const forms: Family = {
  name: 'forms written by hand',
  count: 1500,
  open: async () => {
    const doors = doorsUnderTest();
    return async (i) => {
      const { boundary, parts, repeat, close } = drawn(oddForm, 1_000_000 + i);
      const one = parts
        .map(({ field, name, type, content, end }) =>
          [
            `--${boundary}`,
            `Content-Disposition: form-data; name="${field}"${name === null ? '' : `; filename="${name}"`}`,
            ...(type ? [`Content-Type: ${type}`] : []),
            '',
            content,
          ].join(end || '\r\n'),
        )
        .join('\r\n');
      const body = `${`${one}\r\n`.repeat(repeat)}${close ? `--${boundary}--\r\n` : ''}`;
      return answeredAs(
        await doors.onComputer(POSTS[i % POSTS.length], {
          method: 'POST',
          body: Buffer.from(body, 'latin1'),
          headers: {
            'content-type': `multipart/form-data; boundary=${/[^\x20-\x7e]|^$/.test(boundary) ? 'b' : boundary}`,
          },
        }),
      );
    };
  },
};

const JSON_POSTS = [
  '/api/pairing/exchange',
  '/api/plans',
  '/api/comparisons',
  '/api/transfers',
  '/api/drifts',
  '/api/evenness',
] as const;

const oddJson = fc.oneof(
  wrongValue.map((value) => JSON.stringify(value) ?? ''),
  fc.constantFrom(
    '',
    '{',
    'NaN',
    'Infinity',
    '[1e999]',
    '{"a":NaN}',
    "{'a':1}",
    '\uFEFF{}',
    '[]]',
    '"\\ud800"',
    `${'['.repeat(20_000)}`,
    `${'{"a":'.repeat(5000)}1${'}'.repeat(5000)}`,
    `{${'"a":1,'.repeat(50_000)}"a":1}`,
    `[${'0,'.repeat(200_000)}0]`,
    '9'.repeat(100_000),
    `{"code":"${'A'.repeat(500)}"}`,
    '{"__proto__":{"code":"A"},"start":{"__proto__":null}}',
  ),
  fc.string({ unit: 'binary', maxLength: 200 }),
);

const bodies: Family = {
  name: 'bodies of JSON',
  count: 1500,
  open: async () => {
    const doors = doorsUnderTest();
    return async (i) => {
      // The limit of attempts is not what is looked at here.
      doors.wait(60_000);
      const address = JSON_POSTS[i % JSON_POSTS.length];
      const ask = i % JSON_POSTS.length === 0 ? doors.onNetwork : doors.onComputer;
      return answeredAs(
        await ask(address, {
          method: 'POST',
          body: drawn(oddJson, 1_100_000 + i),
          headers: { 'content-type': i % 7 === 0 ? 'text/plain' : 'application/json' },
        }),
      );
    };
  },
};

const targets: Family = {
  name: 'targets sent with a photo',
  count: 150,
  open: async () => {
    const doors = doorsUnderTest();
    const sound = { kind: 'swatch', L: 45, a: -3, b: -28 };
    return async (i) => {
      const form = new FormData();
      form.set('photo', new Blob([new Uint8Array(hemp.photo)]), 'a.jpg');
      form.set('strip', hemp.strip);
      form.set('marks', hemp.marks);
      form.set('target', JSON.stringify(madeWrong(sound, drawn(wrongs, 1_200_000 + i))));
      return answeredAs(await doors.onComputer('/api/readings', { method: 'POST', body: form }));
    };
  },
};

const oddPath = fc.oneof(
  fc.constantFrom(
    '/../package.json',
    '/%2e%2e/%2e%2e/etc/passwd',
    '/..%5c..%5cpackage.json',
    '/%00',
    '/%',
    '/%ff%fe',
    '/api/demos/..%2f..%2fpackage',
    '/api/demos/%E0%A4%A',
    '/api/previews/../../x.jpg',
    '/api/inbox/__proto__/photo',
    '/api/inbox/constructor/preview',
    '/api/demos/__proto__',
    '/assets//',
    `/${'a'.repeat(20_000)}`,
    `/api/${'x/'.repeat(2000)}`,
    '/?a=%00&a=2',
    '/index.html/',
  ),
  fc.webPath().map((path) => `/api/demos${path}`),
  fc.webPath().map((path) => path || '/'),
  fc
    .string({ unit: 'binary', maxLength: 60 })
    .map((text) => `/api/inbox/${encodeURIComponent(text.replace(/\p{Cs}/gu, ''))}`),
);

const paths: Family = {
  name: 'addresses and methods',
  count: 2000,
  open: async () => {
    const doors = doorsUnderTest();
    const methods = ['GET', 'GET', 'HEAD', 'DELETE', 'PUT', 'OPTIONS', 'PATCH'];
    return async (i) => {
      const path = drawn(oddPath, 1_300_000 + i);
      // Events never end by themselves.
      if (path.startsWith('/api/inbox/events')) return 'left out';
      if (!URL.canParse(`${HOME}${path}`)) return 'no address';
      const method = methods[i % methods.length];
      const response = await doors.onComputer(path, { method });
      if (method === 'HEAD') return String(response.status);
      return answeredAs(response);
    };
  },
};

const names: Family = {
  name: 'names of photos',
  count: 1000,
  open: async () => (i) => {
    const shown = shownName(drawn(oddName, 1_400_000 + i));
    if (shown === '' || [...shown].length > 80 || /[\p{Cc}\p{Cf}/\\]/u.test(shown))
      throw new Error(`shown as ${JSON.stringify(shown)}`);
    return 'shown';
  },
};

/** Sizes that cost more to look at than to send: nesting, counts, lengths. */
const bomb = fc.record({
  unit: fc.constantFrom(
    '[',
    '{"a":',
    '[[],',
    '{},',
    '0,',
    '"",',
    '"\\u0000",',
    '1e309,',
    'null,',
    '{"__proto__":{}},',
  ),
  times: fc.constantFrom(1, 63, 64, 65, 1000, 50_000, 500_000, 2_000_000),
  around: fc.constantFrom(
    ['', ''],
    ['[', '0]'],
    ['{"readings":[', '{}]}'],
    ['{"records":[', '{}]}'],
    ['{"seconds":[', '0]}'],
    ['{"scraps":[', '{}]}'],
    ['{"name":"', '"}'],
    ['{"cells":[[', '0]]}'],
  ),
});

const BOMBED = [
  '/api/plans',
  '/api/comparisons',
  '/api/drifts',
  '/api/evenness/cells',
  '/api/sheets',
  '/api/record/controls',
  '/api/record/plans',
  '/api/record/dyes',
] as const;
const FIELDS = ['reading', 'strip', 'marks', 'context', 'alsoMarks', 'target'] as const;

const bombs: Family = {
  name: 'JSON made to be costly',
  count: 800,
  open: async () => {
    const doors = doorsUnderTest();
    return async (i) => {
      const { unit, times, around } = drawn(bomb, 1_500_000 + i);
      const text = `${around[0]}${unit.repeat(Math.min(times, Math.floor(15_000_000 / unit.length)))}${around[1]}`;
      if (i % 2 === 0)
        return answeredAs(
          await doors.onComputer(BOMBED[(i / 2) % BOMBED.length], {
            method: 'POST',
            body: text,
            headers: { 'content-type': 'application/json' },
          }),
        );
      const form = new FormData();
      form.set('photo', new Blob([new Uint8Array(hemp.photo)]), 'a.jpg');
      form.set('strip', hemp.strip);
      form.set(FIELDS[((i - 1) / 2) % FIELDS.length], text);
      const address = ['/api/readings', '/api/reports', '/api/record/readings'][i % 3];
      return answeredAs(await doors.onComputer(address, { method: 'POST', body: form }));
    };
  },
};

/** Names and texts that books, papers and tables of other programs trip over. */
const oddText = fc.oneof(
  fc.constantFrom(
    "=cmd|' /C calc'!A0",
    '+1',
    '-1',
    '@SUM(1)',
    '\t=1',
    "'; drop table dyes; --",
    '%',
    '\u202egpj',
    '\u2066x',
    '\ud800',
    '\udc00x',
    'a\0b',
    'ﷺ'.repeat(50),
    'Z\u0351\u036b'.repeat(60),
    'ß',
    'İ',
    'ﬁ',
    '\u1e9b\u0323',
    '👩‍👩‍👧‍👦'.repeat(30),
    'x'.repeat(1_000_000),
    '\u2028',
    ' \u00a0 ',
    '<img src=x onerror=x()>',
    '{{7*7}}',
    '../../x',
  ),
  fc.string({ unit: 'binary', maxLength: 220 }),
  fc.string({ unit: 'grapheme', maxLength: 80 }),
);

const texts: Family = {
  name: 'names and texts for the book',
  count: 1000,
  open: async () => {
    const doors = doorsUnderTest();
    return async (i) => {
      const text = drawn(oddText, 1_550_000 + i);
      const post = (path: string, value: object) =>
        doors.onComputer(path, {
          method: 'POST',
          body: JSON.stringify(value),
          headers: { 'content-type': 'application/json' },
        });
      const sheetOf = (of: string) =>
        doors.onComputer(`/api/sheets?${new URLSearchParams({ paper: 'a4', dye: of, cloth: of })}`);
      if (i % 8 === 0) return answeredAs(await sheetOf(text));
      if (i % 4 === 2)
        return answeredAs(await doors.onComputer(`/api/record/readings?${new URLSearchParams({ text })}`));
      const made = await post(`/api/record/${['dyes', 'cloths'][i % 2]}`, { name: text, remark: text });
      if (made.status !== 201) return answeredAs(made);
      const { name, remark } = (await made.json()) as { name: string; remark: string };
      // What is taken in comes back as it was: nothing cut at a NUL, no half character made another.
      if (name !== text.trim() || remark !== text)
        throw new Error(`kept as ${JSON.stringify([name, remark]).slice(0, 200)}`);
      return '201';
    };
  },
};

/** Addresses as phones may write them, with what they are let into. */
const asked = fc.record({
  method: fc.constantFrom('GET', 'POST', 'PATCH', 'DELETE', 'PUT', 'HEAD', 'OPTIONS'),
  base: fc.constantFrom(
    '/api/record/archive',
    '/api/record/readings',
    '/api/pairing',
    '/api/inbox',
    '/api/pairing/phones/x',
    '/api',
  ),
  twist: fc.constantFrom(
    (path: string) => path,
    (path: string) => `${path}/`,
    (path: string) => path.replace('/api/', '/api//'),
    (path: string) => path.replace('r', '%72'),
    (path: string) => path.toUpperCase(),
    (path: string) => `/api/demos/..%2f..${path}`,
    (path: string) => `${path}%00`,
    (path: string) => `${path};a=b`,
    (path: string) => `${path}?_method=GET`,
    (path: string) => `${path}.json`,
    (path: string) => `${path}%20`,
  ),
});

const shutOut: Family = {
  name: 'what a phone may not ask for',
  count: 700,
  open: async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    return async (i) => {
      const { method, base, twist } = drawn(asked, 1_580_000 + i);
      if (method === 'POST' && base === '/api/inbox') return 'may be asked';
      const response = await doors.onNetwork(twist(base), { method, cookie });
      if (response.status < 400) throw new Error(`${method} ${twist(base)} was answered`);
      return method === 'HEAD' ? String(response.status) : answeredAs(response);
    };
  },
};

export const requestFamilies: readonly Family[] = [
  forms,
  bodies,
  targets,
  paths,
  names,
  bombs,
  texts,
  shutOut,
];
