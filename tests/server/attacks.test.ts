import jsQR from 'jsqr';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { inboxReceipt, pairingOffer, visitorAnswer } from '../../server/contracts/pairing.ts';
import { doorsUnderTest, NETWORK, OTHER_PHONE, PHONE } from '../helpers/doorsUnderTest.ts';
import { demoFiles, directAnalyst, formOf, PORT } from '../helpers/serverUnderTest.ts';

const hemp = demoFiles('hemp-banner-blue');
const codeOf = async (response: Response): Promise<string> =>
  errorAnswer.parse(await response.json()).error.code;
const MINUTE_MS = 60_000;
const HOUR_MS = 3_600_000;
const photoForm = () => formOf({ photo: hemp.photo });

describe('pairing a phone', () => {
  it('goes from the picture on the computer to a session: the QR code holds the address and the code', async () => {
    const doors = doorsUnderTest();
    const response = await doors.onComputer('/api/pairing', { method: 'POST' });
    expect(response.status).toBe(201);
    const offer = pairingOffer.parse(await response.json());
    const { data, info } = await sharp(Buffer.from(offer.qrSvg), { density: 300 })
      .ensureAlpha()
      .raw()
      .toBuffer({ resolveWithObject: true });
    // Read by jsQR, which shares no code with the picture's maker.
    const scanned = jsQR(new Uint8ClampedArray(data), info.width, info.height)?.data;
    expect(scanned).toBe(`${NETWORK}/#pair=${offer.code}`);
    const answer = await doors.exchange(scanned?.split('#pair=')[1] ?? '');
    expect(answer.status).toBe(200);
    const cookie = answer.headers.get('set-cookie') ?? '';
    expect(cookie).toMatch(/; HttpOnly/);
    expect(cookie).toMatch(/; SameSite=Strict/);
    expect(cookie).toMatch(/; Path=\/;/);
    expect(cookie).not.toMatch(/Domain/i);
    const visitor = await doors.onNetwork('/api/visitor', { cookie: cookie.split(';')[0] });
    expect(visitorAnswer.parse(await visitor.json())).toMatchObject({ visitor: 'phone', phone: 'Phone 1' });
  });

  it('takes the code as people type it: small letters, no hyphens, O for 0, l for 1', async () => {
    const doors = doorsUnderTest();
    const code = await doors.offer();
    const typed = code.toLowerCase().replaceAll('-', ' ').replaceAll('0', 'o').replaceAll('1', 'l');
    expect((await doors.exchange(typed)).status).toBe(200);
  });

  it('lets a paired phone do what the page does, and put a photo on the computer', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    expect((await doors.onNetwork('/api/demos', { cookie })).status).toBe(200);
    const reading = await doors.onNetwork('/api/readings', { method: 'POST', body: formOf(hemp), cookie });
    expect(reading.status).toBe(200);
    const sent = await doors.onNetwork('/api/inbox', { method: 'POST', body: photoForm(), cookie });
    expect(sent.status).toBe(201);
    const { photo } = inboxReceipt.parse(await sent.json());
    expect(photo.from).toBe('Phone 1');
    const kept = await doors.onComputer(photo.photoHref);
    expect(new Uint8Array(await kept.arrayBuffer())).toEqual(hemp.photo);
    expect(kept.headers.get('content-disposition')).toMatch(/^attachment/);
  });

  it('is not offered without --lan, and says how to start with it', async () => {
    const response = await doorsUnderTest({ lan: false }).onComputer('/api/pairing', { method: 'POST' });
    expect(response.status).toBe(409);
    const { error } = errorAnswer.parse(await response.json());
    expect(error.code).toBe('lan-off');
    expect(error.message).toContain('--lan');
  });
});

describe('a stranger on the local network', () => {
  const ASKED: readonly (readonly [string, string])[] = [
    ['GET', '/api/demos'],
    ['GET', '/api/demos/hemp-banner-blue'],
    ['GET', '/api/inbox'],
    ['GET', '/api/inbox/events'],
    ['GET', '/api/pairing'],
    ['POST', '/api/pairing'],
    ['DELETE', '/api/pairing'],
    ['POST', '/api/inbox'],
    ['POST', '/api/readings'],
    ['POST', '/api/previews'],
    ['GET', '/api/nowhere'],
    ['GET', '/api/pairing/exchange'],
    ['POST', '/api/pairing/exchange/'],
    ['POST', '/api/./pairing'],
    ['GET', '//api/inbox'],
  ];

  it.each(ASKED)('gets nothing from %s %s', async (method, path) => {
    const doors = doorsUnderTest();
    await doors.offer();
    const response = await doors.onNetwork(path, { method });
    expect([401, 404]).toContain(response.status);
    const text = await response.text();
    expect(errorAnswer.parse(JSON.parse(text)).error.code).toMatch(/pairing-needed|not-found/);
  });

  it('is refused before a byte of a photo is read', async () => {
    const doors = doorsUnderTest();
    let pulled = 0;
    const body = new ReadableStream<Uint8Array>(
      {
        pull(controller) {
          pulled += 1;
          controller.enqueue(new Uint8Array(65_536));
        },
      },
      { highWaterMark: 0 },
    );
    const response = await doors.onNetwork('/api/inbox', { method: 'POST', body });
    expect(response.status).toBe(401);
    expect(pulled).toBe(0);
  });

  it('can send a code of at most 1000 bytes', async () => {
    const response = await doorsUnderTest().exchange('A'.repeat(2000));
    expect(response.status).toBe(413);
  });

  it('learns from /api/visitor only that it is one', async () => {
    const doors = doorsUnderTest();
    await doors.pair();
    const response = await doors.onNetwork('/api/visitor', { from: OTHER_PHONE });
    expect(await response.json()).toEqual({ visitor: 'stranger', phone: null, book: false, addresses: [] });
  });
});

describe('guessing the code', () => {
  it('ends after 5 tries of one phone in a minute, also with the right one, and says when to go on', async () => {
    const doors = doorsUnderTest();
    const code = await doors.offer();
    for (let i = 0; i < 5; i++) expect((await doors.exchange(`AAA-AAA-AA${i}`)).status).toBe(403);
    const response = await doors.exchange(code);
    expect(response.status).toBe(429);
    expect(Number(response.headers.get('retry-after'))).toBeGreaterThan(50);
    expect(await codeOf(response)).toBe('pairing-limited');
    doors.wait(61_000);
    expect((await doors.exchange(code)).status).toBe(200);
  });

  it('from one phone does not keep another out', async () => {
    const doors = doorsUnderTest();
    const code = await doors.offer();
    for (let i = 0; i < 30; i++) await doors.exchange('AAA-AAA-AAA', { from: OTHER_PHONE });
    expect((await doors.exchange(code)).status).toBe(200);
  });

  it('from 200 addresses at once gets 20 tries a minute: at most 100 while a code lasts, one in 3·10^11', async () => {
    const doors = doorsUnderTest();
    await doors.offer();
    let tried = 0;
    for (let i = 0; i < 200; i++) {
      const response = await doors.exchange('AAA-AAA-AAA', { from: `192.168.4.${40 + i}` });
      if (response.status === 403) tried += 1;
    }
    expect(tried).toBe(20);
    // 32^9 codes, 5 minutes of 20.
    expect(32 ** 9 / 100).toBeGreaterThan(3e11);
  });

  it('is not helped by headers that claim another address', async () => {
    const doors = doorsUnderTest();
    await doors.offer();
    const statuses: number[] = [];
    for (let i = 0; i < 8; i++)
      statuses.push(
        (
          await doors.exchange('AAA-AAA-AAA', {
            headers: {
              'x-forwarded-for': `10.0.0.${i}`,
              forwarded: `for=10.0.0.${i}`,
              'x-real-ip': `10.0.0.${i}`,
            },
          })
        ).status,
      );
    expect(statuses).toEqual([403, 403, 403, 403, 403, 429, 429, 429]);
  });

  it.each([
    ['nothing', ''],
    ['a code with a line break', 'AAA-AAA-AAA\r\nset-cookie: a=b'],
    ['a code of other scripts', 'ＡＡＡ-ＡＡＡ-ＡＡＡ'],
  ])('with %s is answered like any wrong code', async (_, code) => {
    const doors = doorsUnderTest();
    await doors.offer();
    const response = await doors.exchange(code);
    expect(response.status).toBe(403);
    expect(response.headers.get('set-cookie')).toBeNull();
  });

  it.each([
    ['no JSON', '{'],
    ['a list', '[]'],
    ['a number', '{"code":7}'],
    ['null', 'null'],
  ])('with %s is a bad request', async (_, body) => {
    const response = await doorsUnderTest().onNetwork('/api/pairing/exchange', {
      method: 'POST',
      body,
      headers: { 'content-type': 'application/json' },
    });
    expect(response.status).toBe(400);
  });

  it('meets codes that differ: 500 of them share no sign place and no code comes twice', async () => {
    const doors = doorsUnderTest();
    const codes = new Set<string>();
    const signs = Array.from({ length: 11 }, () => new Set<string>());
    for (let i = 0; i < 500; i++) {
      const code = await doors.offer();
      codes.add(code);
      [...code].forEach((sign, at) => {
        signs[at].add(sign);
      });
    }
    expect(codes.size).toBe(500);
    // Each of the nine places takes all 32 signs; the chance that one place misses one is 32·(31/32)^500 = 4·10^-6.
    expect(signs.map((s) => s.size)).toEqual([32, 32, 32, 1, 32, 32, 32, 1, 32, 32, 32]);
  });
});

describe('a code', () => {
  it('is good once', async () => {
    const doors = doorsUnderTest();
    const code = await doors.offer();
    expect((await doors.exchange(code)).status).toBe(200);
    const again = await doors.exchange(code, { from: OTHER_PHONE });
    expect(again.status).toBe(403);
    expect(await codeOf(again)).toBe('pairing-refused');
  });

  it('is good once also where two phones hand it in at the same moment', async () => {
    const doors = doorsUnderTest();
    const code = await doors.offer();
    const answers = await Promise.all([doors.exchange(code), doors.exchange(code, { from: OTHER_PHONE })]);
    expect(answers.map((a) => a.status).sort()).toEqual([200, 403]);
  });

  it('is good for 5 minutes and no longer', async () => {
    const doors = doorsUnderTest();
    const code = await doors.offer();
    doors.wait(5 * MINUTE_MS);
    expect((await doors.exchange(code)).status).toBe(403);
    const next = await doors.offer();
    doors.wait(5 * MINUTE_MS - 1);
    expect((await doors.exchange(next)).status).toBe(200);
  });

  it('is void once another is asked for, or once it is withdrawn', async () => {
    const doors = doorsUnderTest();
    const first = await doors.offer();
    const second = await doors.offer();
    expect((await doors.exchange(first)).status).toBe(403);
    await doors.onComputer('/api/pairing', { method: 'DELETE' });
    expect((await doors.exchange(second)).status).toBe(403);
  });

  it('is not told again by any answer', async () => {
    const doors = doorsUnderTest();
    const code = await doors.offer();
    const told = await (await doors.onComputer('/api/pairing')).text();
    expect(told).not.toContain(code);
    expect(JSON.parse(told).openUntil).not.toBeNull();
  });
});

describe('a session', () => {
  it('ends after 12 hours', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    doors.wait(12 * HOUR_MS - 1);
    expect((await doors.onNetwork('/api/demos', { cookie })).status).toBe(200);
    doors.wait(1);
    expect((await doors.onNetwork('/api/demos', { cookie })).status).toBe(401);
  });

  it('ends where the computer says so', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    const { phones } = await (await doors.onComputer('/api/pairing')).json();
    const ended = await doors.onComputer(`/api/pairing/phones/${phones[0].id}`, { method: 'DELETE' });
    expect((await ended.json()).phones).toEqual([]);
    expect((await doors.onNetwork('/api/demos', { cookie })).status).toBe(401);
  });

  it('does not let a phone pair others or end them', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    const { phones } = await (await doors.onComputer('/api/pairing')).json();
    for (const [method, path] of [
      ['POST', '/api/pairing'],
      ['GET', '/api/pairing'],
      ['DELETE', '/api/pairing'],
      ['PATCH', `/api/pairing/phones/${phones[0].id}`],
      ['DELETE', `/api/pairing/phones/${phones[0].id}`],
    ] as const) {
      const response = await doors.onNetwork(path, { method, cookie });
      expect(response.status).toBe(403);
      expect(await codeOf(response)).toBe('computer-only');
    }
  });

  it.each([
    ['from another phone of the network', OTHER_PHONE, 401],
    ['from beyond the network, through a router that passes the port on', '203.0.113.9', 403],
    ['from another private network', '10.0.0.9', 403],
    ['from the neighbouring subnet', '192.168.5.31', 403],
    ['over an address of version 6', 'fe80::1', 403],
    ['with no address at all', '', 403],
  ])('is worth nothing where its cookie comes %s', async (_, from, status) => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair(PHONE);
    expect((await doors.onNetwork('/api/demos', { cookie, from })).status).toBe(status);
    expect((await doors.onNetwork('/api/demos', { cookie })).status).toBe(200);
  });

  it('is the same phone’s where the socket writes its address as version 6: ::ffff:192.168.4.31', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair(`::ffff:${PHONE}`);
    expect((await doors.onNetwork('/api/demos', { cookie, from: PHONE })).status).toBe(200);
  });

  it('can’t be made up', async () => {
    const doors = doorsUnderTest();
    await doors.pair();
    for (const value of ['', 'A', 'A'.repeat(43), 'undefined', '__proto__', '%00', 'a"b'])
      expect(
        (await doors.onNetwork('/api/demos', { cookie: `tonestep-phone-${PORT}=${value}` })).status,
      ).toBe(401);
  });

  it('is had by 64 phones at most, and the next is told what to do', async () => {
    const doors = doorsUnderTest();
    for (let i = 0; i < 64; i++) {
      expect(await doors.pair(`192.168.4.${50 + i}`)).toContain('=');
      doors.wait(4000);
    }
    const response = await doors.exchange(await doors.offer(), { from: '192.168.4.250' });
    expect(response.status).toBe(409);
    expect(await codeOf(response)).toBe('pairing-full');
  });

  it('is not needed on the computer itself, whose name opens nothing on the network’s door', async () => {
    const doors = doorsUnderTest();
    expect((await doors.onComputer('/api/demos')).status).toBe(200);
    const headers = { host: `localhost:${PORT}` };
    expect((await doors.onNetwork('/api/demos', { headers })).status).toBe(403);
  });
});

describe('a session that somebody else has chosen', () => {
  it('is not taken on: whoever pairs gets a token of the server’s own', async () => {
    const doors = doorsUnderTest();
    const planted = `tonestep-phone-${PORT}=${'A'.repeat(43)}`;
    const answer = await doors.exchange(await doors.offer(), { cookie: planted });
    const own = (answer.headers.get('set-cookie') ?? '').split(';')[0];
    expect(own).not.toBe(planted);
    expect((await doors.onNetwork('/api/demos', { cookie: planted })).status).toBe(401);
    expect((await doors.onNetwork('/api/demos', { cookie: own })).status).toBe(200);
  });

  it('of another phone, planted in this one’s browser, lets nobody in and ends nobody’s', async () => {
    const doors = doorsUnderTest();
    const theirs = await doors.pair(OTHER_PHONE);
    expect((await doors.onNetwork('/api/demos', { cookie: theirs })).status).toBe(401);
    await doors.exchange(await doors.offer(), { cookie: theirs });
    expect((await doors.onNetwork('/api/demos', { cookie: theirs, from: OTHER_PHONE })).status).toBe(200);
  });

  it('ends when the same phone pairs anew: one phone stays one', async () => {
    const doors = doorsUnderTest();
    const first = await doors.pair();
    const answer = await doors.exchange(await doors.offer(), { cookie: first });
    const second = (answer.headers.get('set-cookie') ?? '').split(';')[0];
    expect((await doors.onNetwork('/api/demos', { cookie: first })).status).toBe(401);
    expect((await doors.onNetwork('/api/demos', { cookie: second })).status).toBe(200);
    expect((await (await doors.onComputer('/api/pairing')).json()).phones).toHaveLength(1);
  });
});

describe('a foreign name for this machine (DNS rebinding)', () => {
  it.each([
    'evil.example',
    `evil.example:${PORT}`,
    `192.168.4.20.evil.example:${PORT}`,
    '192.168.4.20',
    '192.168.4.20:80',
    `192.168.4.21:${PORT}`,
    `localhost:${PORT}`,
    `127.0.0.1:${PORT}`,
    `0.0.0.0:${PORT}`,
    `3232236564:${PORT}`,
    '',
  ])('opens nothing on the network as "%s", with a session or without', async (host) => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    for (const path of ['/', '/api/demos', '/api/visitor']) {
      const response = await doors.onNetwork(path, { headers: { host }, cookie });
      expect(response.status).toBe(403);
      expect(await codeOf(response)).toBe('host-refused');
    }
  });

  it('opens nothing where X-Forwarded-Host says another', async () => {
    const response = await doorsUnderTest().onNetwork('/', {
      headers: { host: 'evil.example', 'x-forwarded-host': `192.168.4.20:${PORT}` },
    });
    expect(response.status).toBe(403);
  });
});

describe('another site in the paired phone’s browser', () => {
  const FOREIGN = [
    'http://evil.example',
    'null',
    `https://192.168.4.20:${PORT}`,
    'http://192.168.4.20:8080',
    'http://192.168.4.20',
    `http://localhost:${PORT}`,
  ];

  it.each(FOREIGN)('can’t change anything from %s', async (origin) => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    const ask = (method: string, path: string, body?: BodyInit) =>
      doors.onNetwork(path, { method, cookie, headers: { origin }, ...(body !== undefined && { body }) });
    const answers = [
      await ask('POST', '/api/inbox', photoForm()),
      await ask('POST', '/api/readings', formOf(hemp)),
      await ask('POST', '/api/pairing/exchange', '{"code":"AAA"}'),
      await ask('DELETE', '/api/inbox/0'),
      await ask('PUT', '/api/inbox/0', 'x'),
    ];
    for (const answer of answers) expect(await codeOf(answer)).toBe('origin-refused');
    expect((await (await doors.onComputer('/api/inbox')).json()).photos).toEqual([]);
  });

  it.each(['same-site', 'cross-site'])('can’t even read, where the browser says %s', async (site) => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    for (const path of ['/api/inbox', '/api/inbox/events', '/api/demos/hemp-banner-blue/photo'])
      expect((await doors.onNetwork(path, { cookie, headers: { 'sec-fetch-site': site } })).status).toBe(403);
  });

  it('can’t change anything where it sends no Origin', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    const { phones } = await (await doors.onComputer('/api/pairing')).json();
    const without = { method: 'DELETE', headers: { origin: '' } };
    expect((await doors.onNetwork('/api/inbox/0', { ...without, cookie })).status).toBe(403);
    expect((await doors.onComputer(`/api/pairing/phones/${phones[0].id}`, without)).status).toBe(403);
    expect((await doors.onNetwork('/api/demos', { cookie })).status).toBe(200);
  });

  it('gets no leave from any answer', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    for (const method of ['GET', 'OPTIONS']) {
      const { headers } = await doors.onNetwork('/api/inbox', {
        method,
        cookie,
        headers: { origin: 'http://evil.example', 'access-control-request-method': 'DELETE' },
      });
      expect([...headers.keys()].filter((name) => name.startsWith('access-control'))).toEqual([]);
      expect(headers.get('cross-origin-resource-policy')).toBe('same-origin');
    }
  });
});

describe('text that comes in', () => {
  it.each([
    ['a line break', 'a\r\nset-cookie: stolen=1.jpg', 'aset-cookie: stolen=1.jpg'],
    ['folders', '../../etc/passwd', 'passwd'],
    ['folders of another system', 'C:\\Users\\x\\strip.jpg', 'strip.jpg'],
    ['a turn of the direction of writing', 'gpj.\u202Eexe', 'gpj.exe'],
    ['escape signs for a terminal', '\u001B[2Jstrip.jpg', '[2Jstrip.jpg'],
    ['nothing', '', 'photo'],
    ['10,000 signs', 'ä'.repeat(10_000), 'ä'.repeat(80)],
  ])('as a file name with %s never reaches a header, and is shown clean', async (_, name, shown) => {
    const doors = doorsUnderTest();
    const { photo } = await doors.inbox.put({ bytes: hemp.photo, name, format: 'jpeg', from: 'Phone 1' });
    expect(photo.name).toBe(shown);
    const response = await doors.onComputer(photo.photoHref);
    expect(response.headers.get('content-disposition')).toBe('attachment; filename="photo"');
    expect(response.headers.get('set-cookie')).toBeNull();
  });

  it('as a body whose part names hold line breaks makes no header', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    const body = [
      '--b',
      'Content-Disposition: form-data; name="photo"; filename="x%0d%0aset-cookie: a=b.jpg"',
      'Content-Type: text/html\r\nX-Injected: 1',
      '',
      '\xFF\xD8\xFF\xE0 not a whole photo',
      '--b--',
      '',
    ].join('\r\n');
    const response = await doors.onNetwork('/api/inbox', {
      method: 'POST',
      body: Buffer.from(body, 'latin1'),
      cookie,
      headers: { 'content-type': 'multipart/form-data; boundary=b' },
    });
    expect(response.status).toBe(201);
    expect(response.headers.get('x-injected')).toBeNull();
    expect(response.headers.get('set-cookie')).toBeNull();
    const { photo } = inboxReceipt.parse(await response.json());
    const kept = await doors.onComputer(photo.photoHref);
    // What the sender calls it is not believed: never text/html.
    expect(kept.headers.get('content-type')).toBe('image/jpeg');
    expect(kept.headers.get('x-content-type-options')).toBe('nosniff');
  });

  it('is no photo: a page or a drawing is refused at the door of the inbox', async () => {
    const doors = doorsUnderTest();
    const cookie = await doors.pair();
    for (const text of [
      '<svg xmlns="http://www.w3.org/2000/svg" onload="x()"/>',
      '<!doctype html><script>x()</script>',
    ])
      expect(
        await codeOf(
          await doors.onNetwork('/api/inbox', {
            method: 'POST',
            body: formOf({ photo: new TextEncoder().encode(text) }),
            cookie,
          }),
        ),
      ).toBe('photo-format-unsupported');
  });
});

describe('a body made to keep the server busy', () => {
  const doors = doorsUnderTest();
  const JSON_TYPE = { 'content-type': 'application/json' };
  const answered = async (ask: Promise<Response>): Promise<readonly [number, string, number]> => {
    const began = performance.now();
    const response = await ask;
    const code = await codeOf(response);
    return [response.status, code, performance.now() - began];
  };
  const post = async (path: string, body: BodyInit, headers: Readonly<Record<string, string>> = {}) =>
    answered(doors.onComputer(path, { method: 'POST', body, headers }));

  // Without these limits 55 million brackets took 3 GB, and a million empty objects in a form kept the page waiting for 9 s.
  it.each([
    ['16 MB and a byte of JSON', '/api/plans', '1'.repeat(16_000_001)],
    ['12 million open brackets', '/api/plans', '['.repeat(12_000_000)],
    ['a million empty objects', '/api/comparisons', `{"readings":[${'{},'.repeat(1_000_000)}{}]}`],
    [
      'a million empty objects for the book',
      '/api/record/controls',
      `{"scraps":[${'{},'.repeat(1_000_000)}{}]}`,
    ],
    ['two million numbers', '/api/evenness/cells', `{"cells":[${'1,'.repeat(2_000_000)}1]}`],
  ])('as %s is refused within a second', async (_, path, body) => {
    const [status, code, ms] = await post(path, body, JSON_TYPE);
    expect([
      [413, 'upload-too-large'],
      [400, 'request-invalid'],
    ]).toContainEqual([status, code]);
    expect(ms).toBeLessThan(1000);
  });

  it('as JSON that never says its length is read no further than an upload may be', async () => {
    let pulled = 0;
    const endless = new ReadableStream<Uint8Array>({
      pull(controller) {
        pulled += 1_000_000;
        controller.enqueue(new Uint8Array(1_000_000).fill(0x20));
      },
    });
    const [status, code] = await post('/api/plans', endless, {
      ...JSON_TYPE,
      'transfer-encoding': 'chunked',
    });
    expect([status, code]).toEqual([413, 'upload-too-large']);
    expect(pulled).toBeLessThan(65_000_000);
  });

  it.each([
    ['a field of a million empty objects', { reading: `{"steps":[${'{},'.repeat(600_000)}{}]}` }],
    ['a field of 2 MB and more', { reading: `"${'x'.repeat(2_000_001)}"` }],
    ['a field that nests 100,000 levels', { reading: '['.repeat(100_000) }],
  ])('as a form with %s is refused within a second', async (_, fields) => {
    const [status, code, ms] = await post('/api/reports', formOf(fields));
    expect([
      [413, 'upload-too-large'],
      [400, 'request-invalid'],
    ]).toContainEqual([status, code]);
    expect(ms).toBeLessThan(1000);
  });

  const PART = '--b\r\nContent-Disposition: form-data; name="a"\r\n\r\n\r\n';
  it.each([
    ['boundary=b', 'multipart/form-data; boundary=b'],
    ['a boundary in quotes', 'multipart/form-data; boundary="b"'],
    ['a boundary given twice', 'multipart/form-data; boundary=c; boundary=b'],
    ['a boundary with a backslash', 'multipart/form-data; boundary="\\b"'],
    ['a boundary of no kind', 'multipart/form-data; boundary="b c\u0001"'],
    ['a form of links', 'application/x-www-form-urlencoded'],
    ['nothing', ''],
  ])('as a form of 100,000 parts, named with %s, is refused within a second', async (_, type) => {
    const body = type.includes('urlencoded') ? 'a=b&'.repeat(1_000_000) : `${PART.repeat(100_000)}--b--\r\n`;
    const [status, code, ms] = await post('/api/previews', body, { 'content-type': type });
    expect([status, code]).toEqual([400, 'request-invalid']);
    expect(ms).toBeLessThan(1000);
  });

  it('with names that objects have from birth is like any other', async () => {
    const form = formOf({ ...hemp, __proto__: 'x', constructor: 'y' });
    form.append('__proto__', '{"polluted":1}');
    const response = await doors.onComputer('/api/readings', { method: 'POST', body: form });
    expect(response.status).toBe(200);
    expect(({} as { polluted?: number }).polluted).toBeUndefined();
  });
});

describe('uploads that creep along', () => {
  it('of one phone leave room for the next: a quarter of it for each', async () => {
    const doors = doorsUnderTest({ uploadBytes: 400_000_000 });
    const cookies = [await doors.pair(PHONE), await doors.pair(OTHER_PHONE)];
    const creeping = (who: number) =>
      doors.onNetwork('/api/inbox', {
        method: 'POST',
        body: new ReadableStream<Uint8Array>({}),
        from: [PHONE, OTHER_PHONE][who],
        cookie: cookies[who],
        headers: { 'content-type': 'multipart/form-data; boundary=b', 'content-length': '50000000' },
      });
    // Two of 50 MB hang for good; the third of the same phone is told to wait.
    creeping(0);
    creeping(0);
    await new Promise((resolve) => setTimeout(resolve, 20));
    const third = await creeping(0);
    expect(third.status).toBe(503);
    expect(Number(third.headers.get('retry-after'))).toBeGreaterThan(0);
    const other = await doors.onNetwork('/api/inbox', {
      method: 'POST',
      body: photoForm(),
      from: OTHER_PHONE,
      cookie: cookies[1],
    });
    expect(other.status).toBe(201);
  });
});

describe('a name for the book', () => {
  const doors = doorsUnderTest();
  const dye = (name: string) =>
    doors.onComputer('/api/record/dyes', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ name }),
    });

  it.each([
    ['a turn of the direction of writing', 'red\u202egpj'],
    ['an isolate that turns it', 'red\u2067gpj'],
    ['a line separator', 'red\u2028blue'],
    ['a NUL', 'red\u0000blue'],
    ['half a character', 'red\ud800'],
    ['a line break', 'red\nblue'],
    ['a megabyte', 'x'.repeat(1_000_000)],
    ['blanks alone', '   '],
  ])('with %s is refused', async (_, name) => {
    const response = await dye(name);
    expect([response.status, await codeOf(response)]).toEqual([400, 'request-invalid']);
  });

  it.each(['אדום כהה', 'نيلي', '藍', 'Añil', 'क्ष', '👩‍🎨 blue', "O'Hara; drop table dyes--", '%_%', '=1+1'])(
    'may be %s, and comes back as it went in',
    async (name) => {
      const response = await dye(name);
      expect(response.status).toBe(201);
      expect((await response.json()).name).toBe(name);
      const list = await (await doors.onComputer('/api/record/dyes?limit=500')).json();
      expect(list.dyes.map((row: { name: string }) => row.name)).toContain(name);
    },
  );
});

describe('a filter of the book', () => {
  const doors = doorsUnderTest();
  it.each([
    ['text', "' or 1=1 --"],
    ['text', '%'],
    ['text', '_'],
    ['text', '\\'],
    ['text', '"; drop table readings; --'],
    ['text', `${'%_'.repeat(100)}`],
  ])('%s=%s is text to look for and nothing else', async (key, value) => {
    const response = await doors.onComputer(`/api/record/readings?${key}=${encodeURIComponent(value)}`);
    expect(response.status).toBe(200);
    expect((await response.json()).readings).toEqual([]);
  });

  it.each([
    ['dyeId', "x' or '1'='1"],
    ['from', "2026-01-01' or '1'='1"],
    ['limit', '1e9'],
    ['limit', '50;select 1'],
    ['offset', '-1'],
    ['offset', 'NaN'],
    ['away', 'maybe'],
  ])('%s=%s is refused', async (key, value) => {
    const response = await doors.onComputer(`/api/record/readings?${key}=${encodeURIComponent(value)}`);
    expect([response.status, await codeOf(response)]).toEqual([400, 'request-invalid']);
  });
});

describe('the log', () => {
  it('says of a database’s error what it is, and nothing of the row that it hangs on it', async () => {
    // As the driver of PostgreSQL makes them: the row that was refused is in "detail".
    const error = Object.assign(new Error('deadlock detected'), {
      code: 'XX000',
      detail: 'Key ("nameKey")=(secret madder) already exists.',
      parameters: ['secret madder'],
      where: 'secret madder',
    });
    const doors = doorsUnderTest({
      analyst: { ...directAnalyst, preview: () => Promise.reject(new Error('outer', { cause: error })) },
    });
    await doors.onComputer('/api/previews', { method: 'POST', body: photoForm() });
    const log = doors.logged.join('');
    expect(log).toContain('deadlock detected');
    expect(log).toContain('XX000');
    expect(log).not.toContain('secret madder');
  });

  it('says nothing of a name that the book has already', async () => {
    const doors = doorsUnderTest();
    const dye = () =>
      doors.onComputer('/api/record/dyes', {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: '{"name":"secret madder"}',
      });
    expect((await dye()).status).toBe(201);
    expect((await dye()).status).toBe(409);
    expect(doors.logged).toEqual([]);
  });

  it('knows no code, no session and no photo’s name, also where something breaks inside', async () => {
    const doors = doorsUnderTest({
      analyst: { ...directAnalyst, preview: () => Promise.reject(new Error('broken inside')) },
    });
    const code = await doors.offer();
    await doors.exchange('AAA-AAA-AAA');
    const cookie = (await doors.exchange(code)).headers.get('set-cookie')?.split(';')[0] ?? '';
    const broken = await doors.onNetwork('/api/previews', { method: 'POST', body: photoForm(), cookie });
    expect(broken.status).toBe(500);
    const log = doors.logged.join('');
    expect(log).toContain('broken inside');
    expect(log).not.toContain(code);
    expect(log).not.toContain(code.replaceAll('-', ''));
    expect(log).not.toContain(cookie.split('=')[1]);
    const answer = await broken.text();
    expect(answer).not.toContain('broken inside');
    expect(answer).not.toMatch(/\/[a-z]+\/|\.ts\b|node_modules/);
  });
});
