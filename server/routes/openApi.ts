import type { Hono } from 'hono';
import { ENDPOINTS } from '../contracts/endpoints.ts';
import { openApiDocument } from '../openapi/openApiDocument.ts';
import { OPEN_API_STYLE, openApiPage } from '../openapi/openApiPage.ts';

const STYLE = '/api/addresses.css';

/** GET /api: the addresses for people. GET /api/openapi.json: for programs. */
export const openApiRoutes = (app: Hono, version: string): void => {
  let made: { readonly json: string; readonly page: string } | null = null;
  const documents = () => {
    if (made) return made;
    const document = openApiDocument(ENDPOINTS, version);
    made = { json: JSON.stringify(document), page: openApiPage(document, STYLE) };
    return made;
  };
  app.get('/api/openapi.json', (c) =>
    c.body(documents().json, 200, { 'Content-Type': 'application/json; charset=utf-8' }),
  );
  app.get('/api', (c) => c.html(documents().page));
  app.get(STYLE, (c) => c.body(OPEN_API_STYLE, 200, { 'Content-Type': 'text/css; charset=utf-8' }));
};
