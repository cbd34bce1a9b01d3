import type { Context } from 'hono';
import { Refusal } from './refusal.ts';

/** The parts of an uploaded form, each checked when asked for. */
export interface FormFields {
  photo(): Promise<Uint8Array>;
  /** A further photo; undefined where the form doesn't have it. */
  otherPhoto(name: string): Promise<Uint8Array | undefined>;
  /** The name under which the photo was sent, as it came; empty where it had none. */
  photoName(): string;
  /** Parsed JSON of a field; undefined where the form doesn't have it. */
  json(name: string): unknown;
}

/** @throws Refusal `request-invalid` where the body is no form. */
export const readForm = async (c: Context): Promise<FormFields> => {
  let fields: Awaited<ReturnType<typeof c.req.parseBody>>;
  try {
    fields = await c.req.parseBody();
  } catch (error) {
    if (error instanceof Refusal) throw error;
    throw new Refusal('request-invalid', 'The upload broke off or is no form. Send the photo again.');
  }
  return {
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
      if (!(file instanceof File) || file.size === 0)
        throw new Refusal('request-invalid', `The field "${name}" must be a photo. Choose another.`);
      return new Uint8Array(await file.arrayBuffer());
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
