import type { OpenApiDocument, Operation, Schema } from './openApiDocument.ts';
import { type FieldWords, type SchemaWords, schemaWords } from './schemaWords.ts';

const escaped = (text: string): string =>
  text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;')
    .replaceAll("'", '&#39;');

const typeHtml = ({ type }: SchemaWords): string =>
  type
    .map(({ text, name }) =>
      name === undefined ? escaped(text) : `<a href="#schema-${escaped(name)}">${escaped(text)}</a>`,
    )
    .join('');

const fieldHtml = ({ name, required, words }: FieldWords): string =>
  `<li><code>${escaped(name)}</code>${required ? '' : ' <i>may be left out</i>'} <span>${typeHtml(words)}</span>${fieldsHtml(words)}</li>`;

const fieldsHtml = ({ objects }: SchemaWords): string =>
  objects
    .filter((fields) => fields.length > 0)
    .map((fields) => `<ul>${fields.map(fieldHtml).join('')}</ul>`)
    .join('');

const REF = '#/components/schemas/';

/** Content by its type; a shape that only this address has is laid open here. */
const contentHtml = (
  content: Readonly<Record<string, { readonly schema: Schema }>>,
  { components: { schemas } }: OpenApiDocument,
  own: string,
): string =>
  Object.entries(content)
    .map(([type, { schema }]) => {
      const words = schemaWords(schema.$ref === REF + own ? schemas[own] : schema);
      return `<p><code>${escaped(type)}</code> <span>${typeHtml(words)}</span></p>${fieldsHtml(words)}`;
    })
    .join('');

const ended = (sentence: string): string => (/[.?!]$/.test(sentence) ? sentence : `${sentence}.`);

const operationHtml = (
  method: string,
  path: string,
  operation: Operation,
  document: OpenApiDocument,
): string => {
  const { operationId, summary, description, parameters = [], requestBody, responses } = operation;
  const all = Object.entries(responses);
  const answers = all.filter(([status]) => Number(status) < 300);
  const refusals = all.filter(([status]) => Number(status) >= 300);
  return `<article id="${escaped(operationId)}">
<h3><b>${escaped(method.toUpperCase())}</b> <code>${escaped(path)}</code></h3>
<p>${escaped(ended(summary))} ${escaped(description)}</p>
${
  parameters.length === 0
    ? ''
    : `<h4>Asked with</h4><ul>${parameters
        .map((p) => fieldHtml({ name: p.name, required: p.required, words: schemaWords(p.schema) }))
        .join('')}</ul>`
}
${requestBody ? `<h4>Sent</h4>${contentHtml(requestBody.content, document, `${operationId}Request`)}` : ''}
<h4>Answered</h4>
${answers.map(([status, { content = {} }]) => `<div class="status"><b>${status}</b><div>${contentHtml(content, document, `${operationId}Answer`)}</div></div>`).join('')}
<details><summary>Refused</summary>
${refusals.map(([status, { description }]) => `<div class="status"><b>${status}</b><div>${escaped(description)}</div></div>`).join('')}
</details>
</article>`;
};

const LINKED = /href="#schema-([^"]+)"/g;

/** The shapes that are linked to, and those that they link to in turn. */
const shapesHtml = (html: string, { components: { schemas } }: OpenApiDocument): string => {
  const shown = new Map<string, string>();
  const show = (from: string): void => {
    for (const [, name] of from.matchAll(LINKED)) {
      if (shown.has(name)) continue;
      const words = schemaWords(schemas[name]);
      const fields = fieldsHtml(words);
      shown.set(
        name,
        `<div class="shape" id="schema-${name}"><h3><code>${name}</code></h3><p><span>${typeHtml(words)}</span></p>${fields}</div>`,
      );
      show(fields + typeHtml(words));
    }
  };
  show(html);
  return [...shown.entries()]
    .sort(([one], [other]) => one.localeCompare(other))
    .map(([, shape]) => shape)
    .join('\n');
};

/** The addresses of the server as a page for people: no script, no style of its own, nothing from elsewhere. */
export const openApiPage = (document: OpenApiDocument, styleHref: string): string => {
  const operations = Object.entries(document.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ path, method, operation })),
  );
  const tags = [...new Set(operations.flatMap(({ operation }) => operation.tags))];
  const parts = tags.map((tag) => ({
    tag,
    operations: operations.filter(({ operation }) => operation.tags.includes(tag)),
  }));
  const operationsHtml = parts
    .map(
      ({ tag, operations: listed }) =>
        `<section><h2>${escaped(tag)}</h2>${listed.map(({ method, path, operation }) => operationHtml(method, path, operation, document)).join('\n')}</section>`,
    )
    .join('\n');
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Addresses of Tonestep</title>
<link rel="stylesheet" href="${escaped(styleHref)}">
</head>
<body>
<header>
<h1>Addresses of Tonestep</h1>
<p>Version ${escaped(document.info.version)}. ${escaped(document.info.description)}</p>
<p>For programs: <a href="/api/openapi.json">openapi.json</a>.</p>
</header>
<nav>
${parts
  .map(
    ({ tag, operations: listed }) =>
      `<h2>${escaped(tag)}</h2><ul>${listed
        .map(
          ({ method, path, operation }) =>
            `<li><a href="#${escaped(operation.operationId)}"><b>${escaped(method.toUpperCase())}</b> <code>${escaped(path)}</code> <span>${escaped(operation.summary)}</span></a></li>`,
        )
        .join('')}</ul>`,
  )
  .join('\n')}
</nav>
<main>
${operationsHtml}
<section><h2>Shapes</h2>
${shapesHtml(operationsHtml, document)}
</section>
</main>
</body>
</html>
`;
};

/** The page's style; neutral, as everything of Tonestep is, light and dark. */
export const OPEN_API_STYLE = `:root { color-scheme: light dark; --ink: #111; --soft: #4a4a4a; --line: #c4c4c4; --sheet: #fff; --well: #f1f1f1; }
@media (prefers-color-scheme: dark) { :root { --ink: #eee; --soft: #b5b5b5; --line: #4a4a4a; --sheet: #1c1c1c; --well: #2a2a2a; } }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 62rem; padding: 2rem 1.25rem 6rem; background: var(--sheet); color: var(--ink); font: 1rem/1.5 system-ui, "Noto Sans", "DejaVu Sans", sans-serif; }
h1 { font-size: 2rem; line-height: 1.2; margin: 0 0 .5rem; }
h2 { font-size: 1.25rem; margin: 2.5rem 0 .5rem; }
h3 { font-size: 1rem; margin: 0; overflow-wrap: anywhere; }
h4 { font-size: .85rem; color: var(--soft); margin: 1rem 0 .25rem; font-weight: 600; }
code { font: .92em/1.4 ui-monospace, "DejaVu Sans Mono", monospace; }
a { color: inherit; text-underline-offset: .2em; }
:focus-visible { outline: 2px solid var(--ink); outline-offset: 2px; }
header p { color: var(--soft); max-width: 46rem; }
nav ul { list-style: none; margin: 0; padding: 0; border-top: 1px solid var(--line); }
nav li { border-bottom: 1px solid var(--line); }
nav a { display: grid; grid-template-columns: 4.5rem minmax(0, 22rem) 1fr; gap: .25rem .75rem; padding: .45rem 0; text-decoration: none; }
nav a:hover code { text-decoration: underline; }
nav code { overflow-wrap: anywhere; }
nav span, article i { color: var(--soft); }
article { border-top: 2px solid var(--ink); margin: 2rem 0; padding-top: .75rem; scroll-margin-top: 1rem; }
article ul, .shape ul { margin: .25rem 0; padding-left: 1.1rem; border-left: 1px solid var(--line); list-style: none; }
article li, .shape li { padding: .1rem 0; overflow-wrap: anywhere; }
article p { margin: .25rem 0; }
.status { display: grid; grid-template-columns: 3rem 1fr; gap: .5rem; }
details { margin: .75rem 0; }
summary { cursor: pointer; color: var(--soft); padding: .25rem 0; }
.shape { background: var(--well); padding: .75rem 1rem; margin: 1rem 0; scroll-margin-top: 1rem; }
@media (max-width: 40rem) { nav a { grid-template-columns: 4.5rem 1fr; } nav span { grid-column: 2; } }
`;
