import type { Context } from 'hono';
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

/** @throws Refusal `request-invalid` where the body is no form. */
export const readForm = async (c: Context): Promise<FormFields> => {
  let all: Readonly<Record<string, readonly (string | File)[]>>;
  try {
    const sent = await c.req.parseBody({ all: true });
    all = Object.fromEntries(Object.entries(sent).map(([name, value]) => [name, [value].flat()]));
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal('request-invalid', 'The upload broke off or is no form. Send the photo again.');
  }
  // Of a field that is meant once, the last one counts.
  const fields: Readonly<Record<string, string | File | undefined>> = Object.fromEntries(
    Object.entries(all).map(([name, values]) => [name, values.at(-1)]),
  );
  const bytesOf = async (name: string, file: string | File): Promise<Uint8Array> => {
    if (!(file instanceof File) || file.size === 0)
      throw new Refusal('request-invalid', `The field "${name}" must be a photo. Choose another.`);
    return new Uint8Array(await file.arrayBuffer());
  };
  return {
    otherPhotos: (name) =>
      Promise.all((all[name] ?? []).filter((file) => file !== '').map((file) => bytesOf(name, file))),
    async photo() {
      const { photo } = fields;
      if (!(photo instanceof File))
        throw new Refusal('request-invalid', 'The form has no photo. Choose a photo, then send it.');
      if (photo.size === 0) throw new Refusal('request-invalid', 'The photo file is empty. Choose another.');
      return new Uint8Array(await photo.arrayBuffer());
    },
    async otherPhoto(name) {
      const file = fields[name];
      if (file === undefined || file === '') return undefined;
      return bytesOf(name, file);
    },
    photoName: () => (fields.photo instanceof File ? fields.photo.name : ''),
    json(name) {
      const text = fields[name];
      if (text === undefined || text === '') return undefined;
      if (typeof text !== 'string') throw new Refusal('request-invalid', `The field "${name}" must be text.`);
      try {
        return JSON.parse(text);
      } catch {
        throw new Refusal('request-invalid', `The field "${name}" is not JSON.`);
      }
    },
  };
};
