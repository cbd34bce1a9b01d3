import { spawnSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';
import { ENDPOINTS } from '../../server/contracts/endpoints.ts';
import { errorAnswer } from '../../server/contracts/errors.ts';
import { type OpenApiDocument, operationIdOf } from '../../server/openapi/openApiDocument.ts';
import { serverUnderTest } from '../helpers/serverUnderTest.ts';

const server = serverUnderTest();
const document = (await (await server.get('/api/openapi.json')).json()) as OpenApiDocument;
const page = await (await server.get('/api')).text();

const asRoute = (path: string): string => path.replace(/\{(\w+)\}/g, ':$1');
const routes = [
  ...new Set(
    server.app.routes
      .filter(
        ({ method, path }) => method !== 'ALL' && path.startsWith('/api') && path !== '/api/addresses.css',
      )
      .map(({ method, path }) => `${method} ${path}`),
  ),
].sort();
const listed = ENDPOINTS.map(({ method, path }) => `${method.toUpperCase()} ${asRoute(path)}`).sort();

describe('the list of addresses', () => {
  it('names every address that the server answers at, and no other, each once', () => {
    expect(routes.length).toBeGreaterThan(50);
    expect(listed).toEqual(routes);
  });

  it('declares every parameter of a path, and no other', () => {
    for (const { path, params } of ENDPOINTS)
      expect({ path, params: Object.keys(params?.shape ?? {}) }).toEqual({
        path,
        params: [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => name),
      });
  });

  it('has a body only where a method has one', () => {
    for (const { method, path, request } of ENDPOINTS)
      if (request)
        expect({ path, method }).toEqual({ path, method: expect.stringMatching(/^(post|patch)$/) });
  });
});

describe('GET /api/openapi.json', () => {
  it('is OpenAPI 3.1 with an operation for each address, each of a name of its own', () => {
    expect(document.openapi).toMatch(/^3\.1\.\d+$/);
    const operations = Object.values(document.paths).flatMap((methods) => Object.values(methods));
    expect(operations.length).toBe(ENDPOINTS.length);
    expect(new Set(operations.map((o) => o.operationId)).size).toBe(operations.length);
  });

  it('points only to shapes that it has', () => {
    const refs = [...JSON.stringify(document).matchAll(/"\$ref":"([^"]+)"/g)].map(([, ref]) => ref);
    expect(refs.length).toBeGreaterThan(100);
    const names = new Set(Object.keys(document.components.schemas).map((n) => `#/components/schemas/${n}`));
    expect(refs.filter((ref) => !names.has(ref))).toEqual([]);
  });

  it('lists the codes of each refusal under their status, and says for all what every address has', () => {
    const { responses } = document.paths['/api/record/readings'].post;
    expect(responses['507'].description).toContain('disk-full');
    expect(responses['403'].description).toContain('origin-refused');
    for (const methods of Object.values(document.paths))
      for (const { responses: all } of Object.values(methods))
        expect(all['500'].description).toContain('internal');
  });
});

describe('GET /api', () => {
  it('shows every address with its summary', () => {
    for (const endpoint of ENDPOINTS) {
      expect(page).toContain(`<article id="${operationIdOf(endpoint)}">`);
      expect(page).toContain(`<code>${endpoint.path}</code>`);
    }
  });

  it('runs under the policy of the server: no script, no style of its own, nothing from elsewhere', async () => {
    const response = await server.get('/api');
    expect(response.headers.get('content-security-policy')).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script|<style|style="|\son\w+=|https?:\/\//);
    const [, href] = /<link rel="stylesheet" href="([^"]+)">/.exec(page) ?? [];
    const style = await server.get(href);
    expect(style.headers.get('content-type')).toContain('text/css');
    expect(await style.text()).not.toMatch(/url\(|@import/);
  });

  it('links only to places on it', () => {
    const ids = new Set([...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
    const links = [...page.matchAll(/href="#([^"]+)"/g)].map(([, id]) => id);
    expect(links.length).toBeGreaterThan(ENDPOINTS.length);
    expect(links.filter((id) => !ids.has(id))).toEqual([]);
  });

  it('tells a browser its language and width', () => {
    expect(page).toContain('<html lang="en">');
    expect(page).toContain('name="viewport"');
  });
});

/** python3's jsonschema: an implementation of JSON Schema 2020-12 that shares nothing with zod. */
const VALIDATE = `
import json, sys
try:
    import jsonschema
    Validator = jsonschema.Draft202012Validator
except (ImportError, AttributeError):
    sys.exit(3)
document, cases = json.load(sys.stdin)
found = []
for schema in document["components"]["schemas"].values():
    Validator.check_schema(schema)
for name, instance in cases:
    schema = {"$ref": "#/components/schemas/" + name, "components": document["components"]}
    found.append([e.json_path + ": " + e.message[:200] for e in Validator(schema).iter_errors(instance)][:3])
print(json.dumps(found))
`;
const validate = (cases: readonly (readonly [name: string, instance: unknown])[]) =>
  spawnSync('python3', ['-c', VALIDATE], {
    input: JSON.stringify([document, cases]),
    encoding: 'utf8',
    maxBuffer: 50_000_000,
  });
const probe = spawnSync('python3', ['-c', 'import jsonschema; jsonschema.Draft202012Validator'], {
  encoding: 'utf8',
});
const absent = probe.error !== undefined || probe.status !== 0;

describe.skipIf(absent)(
  'the shapes, by an independent validator (skipped without python3-jsonschema)',
  () => {
    it('are valid JSON Schema, and a refusal of the server is one', async () => {
      const refusal = errorAnswer.parse(await (await server.get('/api/record/readings?limit=0')).json());
      const { stdout, stderr, status } = validate([
        ['Refusal', refusal],
        ['Refusal', { error: { code: 'no-such-code', message: 'x' } }],
      ]);
      expect({ status, stderr: stderr.slice(-300) }).toMatchObject({ status: 0 });
      const [good, bad] = JSON.parse(stdout);
      expect(good).toEqual([]);
      expect(bad.join()).toContain('no-such-code');
    });
  },
);
