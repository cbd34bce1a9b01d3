/** Levels of brackets that JSON from outside may have; a reading has a dozen. */
export const DEEPEST_JSON = 64;

/** Values that a form's field or a row for the book may have; a reading of 60 steps has ten thousand. */
export const MOST_VALUES = 50_000;

const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const COMMA = 0x2c;

/**
 * Is JSON text deeper or made of more values than anything here is? Looked at before anything is built from it: millions
 * of brackets take gigabytes of memory, and a million empty objects keep the checks busy for ten seconds.
 */
export const jsonBeyond = (json: string, mostValues: number): 'deep' | 'many' | null => {
  let depth = 0;
  let values = 1;
  let inText = false;
  for (let i = 0; i < json.length; i++) {
    const sign = json.charCodeAt(i);
    if (inText) {
      if (sign === BACKSLASH) i += 1;
      else if (sign === QUOTE) inText = false;
    } else if (sign === QUOTE) inText = true;
    else if (sign === COMMA) values += 1;
    else if (sign === 0x5b || sign === 0x7b) {
      values += 1;
      depth += 1;
      if (depth > DEEPEST_JSON) return 'deep';
    } else if (sign === 0x5d || sign === 0x7d) depth -= 1;
    if (values > mostValues) return 'many';
  }
  return null;
};
