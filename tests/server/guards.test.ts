import { describe, expect, it } from 'vitest';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { formOf, ORIGIN, PORT, serverUnderTest } from '../helpers/serverUnderTest.ts';

const server = serverUnderTest();
const codeOf = async (response: Response): Promise<string> =>
  errorAnswer.parse(await response.json()).error.code;

describe('the Host header', () => {
  it.each([`localhost:${PORT}`, `127.0.0.1:${PORT}`, `[::1]:${PORT}`, `LOCALHOST:${PORT}`])(
    'is accepted as %s',
    async (host) => {
      expect((await server.get('/', { host })).status).toBe(200);
    },
  );

  it.each([
    'evil.example',
    `evil.example:${PORT}`,
    `localhost.evil.example:${PORT}`,
    'localhost:1234',
    'localhost',
    `192.168.0.7:${PORT}`,
    '',
  ])('is refused as "%s"', async (host) => {
    for (const path of ['/', '/api/demos']) {
      const response = await server.get(path, { host });
      expect(response.status).toBe(403);
      expect(await codeOf(response)).toBe('host-refused');
    }
  });
});

describe('the Origin of a POST', () => {
  const noPhoto = (): FormData => formOf({ strip: '{}' });

  it.each([ORIGIN, `http://127.0.0.1:${PORT}`, `http://[::1]:${PORT}`])(
    'is accepted as %s',
    async (origin) => {
      const response = await server.post('/api/readings', noPhoto(), { origin });
      expect(await codeOf(response)).toBe('request-invalid');
    },
  );

  it.each([
    'http://evil.example',
    'null',
    `https://localhost:${PORT}`,
    'http://localhost:1234',
    `http://localhost.evil.example:${PORT}`,
  ])('is refused as %s', async (origin) => {
    for (const path of ['/api/readings', '/api/previews']) {
      const response = await server.post(path, noPhoto(), { origin });
      expect(response.status).toBe(403);
      expect(await codeOf(response)).toBe('origin-refused');
    }
  });

  it('is refused where another site sends plain text, which needs no leave from the browser', async () => {
    const response = await server.post('/api/readings', 'photo=1', {
      origin: 'http://evil.example',
      'content-type': 'text/plain',
    });
    expect(response.status).toBe(403);
  });

  it('is refused where a browser says that another site sent it and names none', async () => {
    const response = await server.app.request(`${ORIGIN}/api/readings`, {
      method: 'POST',
      body: noPhoto(),
      headers: { host: `localhost:${PORT}`, 'sec-fetch-site': 'cross-site' },
    });
    expect(response.status).toBe(403);
  });

  it('never opens an answer to other sites', async () => {
    const response = await server.get('/api/demos', { origin: 'http://evil.example' });
    expect(response.headers.get('access-control-allow-origin')).toBeNull();
  });
});

describe('headers', () => {
  it.each(['/', '/api/demos', '/nowhere'])('let nothing inline or foreign run on %s', async (path) => {
    const { headers } = await server.get(path);
    const policy = headers.get('content-security-policy') ?? '';
    expect(policy).toContain("default-src 'none'");
    expect(policy).toContain("script-src 'self'");
    expect(policy).toContain("frame-ancestors 'none'");
    expect(policy).not.toMatch(/unsafe|\*|https?:/);
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('x-frame-options')).toBe('DENY');
    expect(headers.get('referrer-policy')).toBe('no-referrer');
  });

  it('stand on refusals as well', async () => {
    const { headers } = await server.get('/', { host: 'evil.example' });
    expect(headers.get('x-content-type-options')).toBe('nosniff');
    expect(headers.get('content-security-policy')).toContain("default-src 'none'");
  });
});

describe('the size of an upload', () => {
  it('is refused above 60 MB by its stated length, before a byte is read', async () => {
    const response = await server.post('/api/readings', 'x', {
      'content-length': '60000001',
      'content-type': 'multipart/form-data; boundary=b',
    });
    expect(response.status).toBe(413);
    expect(await codeOf(response)).toBe('upload-too-large');
  });

  it('is refused above 60 MB where no length is stated', async () => {
    let sent = 0;
    const endless = new ReadableStream<Uint8Array>({
      pull(controller) {
        sent += 1;
        if (sent > 100) controller.close();
        else controller.enqueue(new Uint8Array(1_000_000));
      },
    });
    const response = await server.post('/api/previews', endless, {
      'transfer-encoding': 'chunked',
      'content-type': 'multipart/form-data; boundary=b',
    });
    expect(response.status).toBe(413);
    expect(await codeOf(response)).toBe('upload-too-large');
    expect(sent).toBeLessThan(65);
  });
});
