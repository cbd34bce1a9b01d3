import { type Lab, xyzToLab } from '../../../analysis/colour/lab.ts';
import { applyMatrix3 } from '../../../analysis/colour/matrix3.ts';
import type { Photo, Rgb } from '../../../analysis/photo/photo.ts';

/** Code values of one pixel. */
export function codesAt(photo: Photo, pixel: number): readonly [number, number, number] {
  const { codes } = photo;
  return [codes[3 * pixel], codes[3 * pixel + 1], codes[3 * pixel + 2]];
}

/** Do two photos hold the same code values? */
export function sameCodes({ codes }: Photo, other: Photo): boolean {
  const bytes = (values: Photo['codes']) => Buffer.from(values.buffer, values.byteOffset, values.byteLength);
  return codes.constructor === other.codes.constructor && bytes(codes).equals(bytes(other.codes));
}

/** Linear device light of one pixel through the photo's own profile. */
export function lightAt(photo: Photo, pixel: number): Rgb {
  const [r, g, b] = codesAt(photo, pixel);
  const { linear } = photo.profile;
  return [linear[0][r], linear[1][g], linear[2][b]];
}

/** CIELAB, D65, of one pixel through the photo's own profile. */
export function labAt(photo: Photo, pixel: number): Lab {
  return xyzToLab(applyMatrix3(photo.profile.toXyz65, lightAt(photo, pixel)));
}

/** CIELAB, D65, of the mean light of whole rows `first` to `last`, the last one included. */
export function labOfRows(photo: Photo, first: number, last: number): Lab {
  const sum = [0, 0, 0];
  for (let pixel = first * photo.widthPx; pixel < (last + 1) * photo.widthPx; pixel++) {
    const light = lightAt(photo, pixel);
    for (let c = 0; c < 3; c++) sum[c] += light[c];
  }
  const pixels = (last + 1 - first) * photo.widthPx;
  const mean = [sum[0] / pixels, sum[1] / pixels, sum[2] / pixels] as const;
  return xyzToLab(applyMatrix3(photo.profile.toXyz65, mean));
}
