import type { Context } from 'hono';
import { parseJson } from './readJson.ts';
import { Refusal } from './refusal.ts';

/** The parts of an uploaded form, each checked when asked for. */
export interface FormFields {
  photo(): Promise<Uint8Array>;
  /** Photos of a field that may be sent several times, in their order. */
  otherPhotos(name: string): Promise<readonly Uint8Array[]>;
  /** A further photo; undefined where the form doesn't have it. */
  otherPhoto(name: string): Promise<Uint8Array | undefined>;
  /** The name under which the photo was sent, as it came; empty where it had none. */
  photoName(): string;
  /** Parsed JSON of a field; undefined where the form doesn't have it. */
  json(name: string): unknown;
}

/** Most parts of a form: a photo, further ones, and a dozen texts. Millions of tiny ones keep a thread busy for seconds. */
const MOST_PARTS = 64;
/** Most signs of a text in a form: a whole reading has a hundred thousand. */
const MOST_TEXT = 2_000_000;

const BROKEN = 'The upload broke off or is no form. Send the photo again.';

/** Signs of a boundary: RFC 2046, 5.1.1, without the blank, which nobody uses. Said once, so that all read the same. */
const boundaryOf = (type: string): string | null => {
  if (!/^multipart\/form-data\s*;/i.test(type) || type.match(/boundary\s*=/gi)?.length !== 1) return null;
  const [, quoted, plain] =
    /;\s*boundary=(?:"([0-9A-Za-z'()+_,./:=?-]{1,70})"|([0-9A-Za-z'()+_,./:=?-]{1,70}))\s*(?:;|$)/i.exec(
      type,
    ) ?? [];
  return quoted ?? plain ?? null;
};

/** How many parts a form has at the most, up to one more than allowed. */
const partsOf = (body: Uint8Array, boundary: string): number => {
  const bytes = Buffer.from(body.buffer, body.byteOffset, body.byteLength);
  const mark = Buffer.from(`--${boundary}`);
  let count = -1;
  for (
    let at = bytes.indexOf(mark);
    at >= 0 && count <= MOST_PARTS;
    at = bytes.indexOf(mark, at + mark.length)
  )
    count += 1;
  return count;
};

const sentFields = async (c: Context): Promise<FormData> => {
  const type = c.req.header('content-type') ?? '';
  const boundary = boundaryOf(type);
  if (boundary === null) throw new Refusal('request-invalid', BROKEN);
  const body = new Uint8Array(await c.req.arrayBuffer());
  if (partsOf(body, boundary) > MOST_PARTS)
    throw new Refusal('request-invalid', `A form may have up to ${MOST_PARTS} fields.`);
  return new Response(body, { headers: { 'content-type': type } }).formData();
};

/** @throws Refusal `request-invalid` where the body is no form, `upload-too-large`. */
export const readForm = async (c: Context): Promise<FormFields> => {
  const all = new Map<string, (string | File)[]>();
  try {
    for (const [name, value] of await sentFields(c)) all.set(name, [...(all.get(name) ?? []), value]);
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal('request-invalid', BROKEN);
  }
  // Of a field that is meant once, the last one counts.
  const field = (name: string): string | File | undefined => all.get(name)?.at(-1);
  const bytesOf = async (name: string, file: string | File): Promise<Uint8Array> => {
    if (!(file instanceof File) || file.size === 0)
      throw new Refusal('request-invalid', `The field "${name}" must be a photo. Choose another.`);
    return new Uint8Array(await file.arrayBuffer());
  };
  return {
    otherPhotos: (name) =>
      Promise.all((all.get(name) ?? []).filter((file) => file !== '').map((file) => bytesOf(name, file))),
    async photo() {
      const photo = field('photo');
      if (!(photo instanceof File))
        throw new Refusal('request-invalid', 'The form has no photo. Choose a photo, then send it.');
      if (photo.size === 0) throw new Refusal('request-invalid', 'The photo file is empty. Choose another.');
      return new Uint8Array(await photo.arrayBuffer());
    },
    async otherPhoto(name) {
      const file = field(name);
      if (file === undefined || file === '') return undefined;
      return bytesOf(name, file);
    },
    photoName: () => {
      const photo = field('photo');
      return photo instanceof File ? photo.name : '';
    },
    json(name) {
      const text = field(name);
      if (text === undefined || text === '') return undefined;
      if (typeof text !== 'string') throw new Refusal('request-invalid', `The field "${name}" must be text.`);
      if (text.length > MOST_TEXT)
        throw new Refusal(
          'upload-too-large',
          `The field "${name}" is longer than anything that belongs there.`,
        );
      return parseJson(text, `The field "${name}"`);
    },
  };
};
