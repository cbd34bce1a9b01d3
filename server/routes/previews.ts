import type { Handler } from 'hono';
import type { PreviewAnswer } from '../contracts/answers.ts';
import { readForm } from '../formFields.ts';
import type { PhotoPreviews } from '../photoPreviews.ts';
import { Refusal } from '../refusal.ts';

/** POST /api/previews: a form with `photo`; says early whether the photo can be used. */
export const postPreview =
  (previews: PhotoPreviews): Handler =>
  async (c) => {
    const form = await readForm(c);
    const answer: PreviewAnswer = { preview: await previews.of(await form.photo(), c.req.raw.signal) };
    return c.json(answer);
  };

/** GET /api/previews/:file: the small picture itself. */
export const getPreview =
  (previews: PhotoPreviews): Handler =>
  (c) => {
    const image = previews.image((c.req.param('file') ?? '').replace(/\.jpg$/, ''));
    if (!image) throw new Refusal('not-found', 'This preview is no longer kept. Send the photo again.');
    return c.body(new Uint8Array(image.jpeg), 200, {
      'Content-Type': 'image/jpeg',
      'Cache-Control': 'private, max-age=3600, immutable',
    });
  };
