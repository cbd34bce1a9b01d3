import type { Schema } from './openApiDocument.ts';

/** A schema in words: its type with limits, and the fields that it has. */
export interface SchemaWords {
  /** Pieces of text; one with `name` stands for a shared schema of that name. */
  readonly type: readonly { readonly text: string; readonly name?: string }[];
  /** A list of fields for each object that it can be. */
  readonly objects: readonly (readonly FieldWords[])[];
}

export interface FieldWords {
  readonly name: string;
  readonly required: boolean;
  readonly words: SchemaWords;
}

const NAME = /^#\/components\/schemas\/(.+)$/;

const limits = (schema: Schema): string => {
  const { minimum, maximum, exclusiveMinimum, exclusiveMaximum, maxLength, maxItems, minItems } = schema;
  const huge = (value: unknown) => typeof value === 'number' && Math.abs(value) >= Number.MAX_SAFE_INTEGER;
  const said = [
    minimum === undefined || huge(minimum) ? '' : `from ${minimum}`,
    exclusiveMinimum === undefined ? '' : `above ${exclusiveMinimum}`,
    maximum === undefined || huge(maximum) ? '' : `to ${maximum}`,
    exclusiveMaximum === undefined ? '' : `below ${exclusiveMaximum}`,
    maxLength === undefined ? '' : `up to ${maxLength} characters`,
    minItems === undefined ? '' : `at least ${minItems}`,
    maxItems === undefined ? '' : `at most ${maxItems}`,
  ].filter(Boolean);
  return said.length === 0 ? '' : `, ${said.join(' ')}`;
};

const fieldsOf = (schema: Schema): readonly FieldWords[] => {
  const required = (schema.required ?? []) as readonly string[];
  return Object.entries((schema.properties ?? {}) as Record<string, Schema>).map(([name, field]) => ({
    name,
    required: required.includes(name),
    words: schemaWords(field),
  }));
};

const FORMATS: Readonly<Record<string, string>> = {
  uuid: 'id (UUID)',
  'date-time': 'moment (ISO 8601, UTC)',
  binary: 'file',
};

const otherTypes = (parts: readonly SchemaWords[]) =>
  parts.filter((part) => part.objects.length === 0).map((part) => part.type);

/** What a schema asks for, for people. */
export const schemaWords = (schema: Schema): SchemaWords => {
  const plain = (text: string, objects: SchemaWords['objects'] = []): SchemaWords => ({
    type: [{ text }],
    objects,
  });
  const name = typeof schema.$ref === 'string' ? NAME.exec(schema.$ref)?.[1] : undefined;
  if (name !== undefined) return { type: [{ text: name, name }], objects: [] };
  const several = (schema.oneOf ?? schema.anyOf) as readonly Schema[] | undefined;
  if (several) {
    const parts = several.map(schemaWords);
    const objects = parts.flatMap((part) => part.objects);
    const types =
      objects.length > 1
        ? [[{ text: `one of ${objects.length} objects` }], ...otherTypes(parts)]
        : parts.map((part) => part.type);
    return { type: types.flatMap((type, i) => [...(i === 0 ? [] : [{ text: ' or ' }]), ...type]), objects };
  }
  if (schema.const !== undefined) return plain(JSON.stringify(schema.const));
  if (Array.isArray(schema.enum))
    return plain(schema.enum.map((value) => JSON.stringify(value)).join(' or '));
  if (schema.type === 'array') {
    const prefix = schema.prefixItems as readonly Schema[] | undefined;
    const item = schemaWords((schema.items as Schema) ?? prefix?.[0] ?? {});
    const count = prefix ? `${prefix.length} of: ` : 'list of: ';
    return { type: [{ text: count }, ...item.type, { text: limits(schema) }], objects: item.objects };
  }
  if (schema.type === 'object' || schema.properties) {
    if (schema.properties) return plain('object', [fieldsOf(schema)]);
    const values = schema.additionalProperties as Schema | undefined;
    if (!values || Object.keys(values).length === 0) return plain('object');
    const item = schemaWords(values);
    return { type: [{ text: 'by name: ' }, ...item.type], objects: item.objects };
  }
  if (typeof schema.format === 'string' && FORMATS[schema.format]) return plain(FORMATS[schema.format]);
  if (typeof schema.type === 'string') return plain(schema.type + limits(schema));
  return plain('anything');
};
