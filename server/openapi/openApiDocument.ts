import { z } from 'zod';
import type { Endpoint, Visitors } from '../contracts/endpoint.ts';
import { type ErrorCode, errorAnswer } from '../contracts/errors.ts';
import { marks } from '../contracts/marks.ts';
import { advice, reading } from '../contracts/reading.ts';
import { stripDescription } from '../contracts/strip.ts';
import { target } from '../contracts/target.ts';
import { portable } from '../exchange/portableSchema.ts';
import { STATUS_OF_CODE } from '../statusOfCode.ts';

/** JSON Schema 2020-12, as OpenAPI 3.1 takes it. */
export type Schema = Readonly<Record<string, unknown>>;

export interface Parameter {
  readonly name: string;
  readonly in: 'path' | 'query';
  readonly required: boolean;
  readonly schema: Schema;
}

interface Content {
  readonly [type: string]: { readonly schema: Schema };
}

export interface Operation {
  readonly operationId: string;
  readonly summary: string;
  readonly description: string;
  readonly tags: readonly string[];
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly required: true; readonly content: Content };
  readonly responses: Readonly<Record<string, { readonly description: string; readonly content?: Content }>>;
}

export interface OpenApiDocument {
  readonly openapi: '3.1.1';
  readonly info: { readonly title: string; readonly version: string; readonly description: string };
  readonly paths: Readonly<Record<string, Readonly<Record<string, Operation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
}

/** Refusals that every address has. */
const EVERYWHERE: readonly ErrorCode[] = ['host-refused', 'internal'];

/** Schemas that several addresses share, by the names that they get. */
const SHARED: readonly (readonly [name: string, schema: z.ZodType])[] = [
  ['Reading', reading],
  ['Advice', advice],
  ['Marks', marks],
  ['StripDescription', stripDescription],
  ['Target', target],
];

/** "post" and "/api/record/readings/{id}/again" make "postRecordReadingsIdAgain". */
export const operationIdOf = ({ method, path }: Pick<Endpoint, 'method' | 'path'>): string =>
  method +
  path
    .replace(/^\/api/, '')
    .split(/[^A-Za-z0-9]+/)
    .filter(Boolean)
    .map((word) => word[0].toUpperCase() + word.slice(1))
    .join('');

const INTRO =
  'Addresses of a Tonestep server. Refusals are {"error": {"code", "message"}}; the codes that each status can have are listed with it. Requests that change anything need the Origin of the page itself.';

/** Schemas of all endpoints at once, so that what they share is said once. */
const schemasOf = (
  wanted: readonly (readonly [name: string, schema: z.ZodType])[],
  io: 'input' | 'output',
): Readonly<Record<string, Schema>> => {
  const names = z.registry<{ id: string }>();
  for (const [id, schema] of wanted) names.add(schema, { id });
  const { schemas } = z.toJSONSchema(names, {
    target: 'draft-2020-12',
    io,
    unrepresentable: 'any',
    uri: (id) => `#/components/schemas/${id}`,
    override: portable,
  });
  return Object.fromEntries(
    Object.entries(schemas).map(([name, { $schema: _, $id: __, ...schema }]) => [name, schema]),
  );
};

const ref = (name: string): Schema => ({ $ref: `#/components/schemas/${name}` });

const parametersOf = ({ params, query }: Endpoint): readonly Parameter[] =>
  [['path', params] as const, ['query', query] as const].flatMap(([place, shape]) => {
    if (!shape) return [];
    const { properties = {}, required = [] } = z.toJSONSchema(shape, {
      target: 'draft-2020-12',
      io: 'input',
      unrepresentable: 'any',
      override: portable,
    });
    return Object.entries(properties).map(([name, schema]) => ({
      name,
      in: place,
      required: place === 'path' || required.includes(name),
      schema: schema as Schema,
    }));
  });

/** What those are told who may not ask. */
const SHUT_OUT: Readonly<Record<Visitors, readonly ErrorCode[]>> = {
  anyone: [],
  phone: ['pairing-needed'],
  book: ['pairing-needed', 'book-shut'],
  computer: ['pairing-needed', 'computer-only'],
};

/** Refusals by status: which codes it can have. */
const refusalsOf = ({ errors, method, visitors }: Endpoint) => {
  const codes = [
    ...new Set([
      ...errors,
      ...SHUT_OUT[visitors],
      ...EVERYWHERE,
      ...(method === 'get' ? [] : ['origin-refused' as const]),
    ]),
  ];
  const byStatus = new Map<number, ErrorCode[]>();
  for (const code of codes)
    byStatus.set(STATUS_OF_CODE[code], [...(byStatus.get(STATUS_OF_CODE[code]) ?? []), code]);
  return Object.fromEntries(
    [...byStatus.entries()].map(([status, list]) => [
      String(status),
      {
        description: list.join(', '),
        content: { 'application/json': { schema: ref('Refusal') } },
      },
    ]),
  );
};

/** Who may ask, as the list says it. */
const WHO: Readonly<Record<Visitors, string>> = {
  anyone: 'Anyone on the local network may ask this.',
  phone: 'Paired phones may ask this, and the computer itself.',
  book: 'The computer itself may ask this, and paired phones that it has opened the book to.',
  computer: 'Only the computer itself may ask this.',
};

const FILE: Schema = { type: 'string', format: 'binary' };

/** Forms carry JSON as text in their fields, photos as files. */
const bodyOf = (name: string, request: NonNullable<Endpoint['request']>): Operation['requestBody'] => ({
  required: true,
  content: { [request.type]: { schema: request.type === 'application/zip' ? FILE : ref(name) } },
});

const tagOf = (path: string): string =>
  /^\/api\/record/.test(path)
    ? 'The book'
    : /^\/api\/(?:visitor|pairing|inbox)/.test(path)
      ? 'Phones'
      : /^\/api(?:$|\/(?:health|openapi))/.test(path)
        ? 'The server'
        : 'Reading and planning';

/** The addresses of the server as an OpenAPI 3.1 document, made from the contracts that the server and the page use. */
export const openApiDocument = (endpoints: readonly Endpoint[], version: string): OpenApiDocument => {
  const named = endpoints.map((endpoint) => ({ endpoint, id: operationIdOf(endpoint) }));
  const answers = named.flatMap(({ endpoint: { response }, id }) =>
    response.schema ? [[`${id}Answer`, response.schema] as const] : [],
  );
  const requests = named.flatMap(({ endpoint: { request }, id }) =>
    request && request.type !== 'application/zip' ? [[`${id}Request`, request.schema] as const] : [],
  );
  // A schema can go by one name only; the first one given stands for all.
  const nameOf = new Map<z.ZodType, string>(SHARED.map(([name, schema]) => [schema, name]));
  for (const [name, schema] of answers) if (!nameOf.has(schema)) nameOf.set(schema, name);
  const sent = new Map<z.ZodType, string>(SHARED.map(([name, schema]) => [schema, `${name}Sent`]));
  for (const [name, schema] of requests) if (!sent.has(schema)) sent.set(schema, name);
  const schemas = {
    ...schemasOf(
      [...nameOf].map(([schema, name]) => [name, schema]),
      'output',
    ),
    ...schemasOf(
      [...sent].map(([schema, name]) => [name, schema]),
      'input',
    ),
    ...schemasOf([['Refusal', errorAnswer]], 'output'),
  };

  const paths: Record<string, Record<string, Operation>> = {};
  for (const { endpoint, id } of named) {
    const { method, path, visitors, summary, request, response } = endpoint;
    const parameters = parametersOf(endpoint);
    const operation: Operation = {
      operationId: id,
      summary,
      description: WHO[visitors],
      tags: [tagOf(path)],
      ...(parameters.length > 0 && { parameters }),
      ...(request && { requestBody: bodyOf(sent.get(request.schema) ?? '', request) as never }),
      responses: {
        [String(response.status)]: {
          description: summary,
          content: {
            [response.type]: { schema: response.schema ? ref(nameOf.get(response.schema) ?? '') : FILE },
          },
        },
        ...refusalsOf(endpoint),
      },
    };
    paths[path] = { ...paths[path], [method]: operation };
  }
  return {
    openapi: '3.1.1',
    info: { title: 'Tonestep', version, description: INTRO },
    paths,
    components: { schemas },
  };
};
