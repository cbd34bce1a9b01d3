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

export const requestFamilies: readonly Family[] = [forms, bodies, targets, paths, names];
