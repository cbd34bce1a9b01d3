import type { z } from 'zod';

/** Options of z.toJSONSchema for schemas that go out: what every JSON Schema program understands. */
type Override = NonNullable<NonNullable<Parameters<typeof z.toJSONSchema>[1]>['override']>;

/**
 * Unicode properties are known to some regular expressions only, so control characters are told by their codes and halves
 * of characters, which JSON text in UTF-8 can't hold, not at all. A file is a string of bytes.
 */
export const portable: Override = ({ zodSchema, jsonSchema }) => {
  // Said of values in memory; to JSON Schema it would mean that a sender must leave them out.
  delete jsonSchema.readOnly;
  const { pattern } = jsonSchema;
  if (typeof pattern === 'string' && pattern.includes('\\p{'))
    jsonSchema.pattern = pattern
      .replaceAll('\\p{Cc}', '\\u0000-\\u001f\\u007f-\\u009f')
      .replaceAll('\\p{Cs}', '');
  if (zodSchema._zod.def.type === 'file') {
    for (const key of Object.keys(jsonSchema)) delete (jsonSchema as Record<string, unknown>)[key];
    jsonSchema.type = 'string';
    jsonSchema.format = 'binary';
  }
};
