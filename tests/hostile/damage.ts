import fc from 'fast-check';

/** One harm done to a file. Places and lengths are shares of it, so that they fit files of any size. */
export type Damage =
  | { readonly kind: 'cut'; readonly at: number }
  | { readonly kind: 'flip'; readonly at: number; readonly bit: number }
  | { readonly kind: 'set'; readonly at: number; readonly value: number; readonly bytes: number }
  | { readonly kind: 'drop'; readonly at: number; readonly bytes: number }
  | { readonly kind: 'repeat'; readonly at: number; readonly bytes: number; readonly times: number }
  | { readonly kind: 'swap'; readonly at: number; readonly to: number; readonly bytes: number }
  | { readonly kind: 'append'; readonly text: string };

/** Every place is as likely as any other: left to itself, the generator would mostly choose the ends. */
const shareUpTo = (most: number) => fc.noBias(fc.nat(1_000_000)).map((n) => (most * n) / 1_000_000);
const anywhere = shareUpTo(1);
/** Headers are where harm goes deepest. */
const nearTheStart = shareUpTo(0.15);
const at = fc.oneof(anywhere, nearTheStart);
const value = fc.oneof(fc.constantFrom(0, 255, 127, 128), fc.integer({ min: 0, max: 255 }));

const one: fc.Arbitrary<Damage> = fc.oneof(
  fc.record({ kind: fc.constant('cut' as const), at: anywhere }),
  { arbitrary: fc.record({ kind: fc.constant('flip' as const), at, bit: fc.nat(7) }), weight: 4 },
  {
    arbitrary: fc.record({
      kind: fc.constant('set' as const),
      at,
      value,
      bytes: fc.constantFrom(1, 2, 4, 8),
    }),
    weight: 3,
  },
  fc.record({ kind: fc.constant('drop' as const), at, bytes: fc.integer({ min: 1, max: 64 }) }),
  fc.record({
    kind: fc.constant('repeat' as const),
    at,
    bytes: fc.integer({ min: 1, max: 256 }),
    times: fc.integer({ min: 1, max: 400 }),
  }),
  fc.record({ kind: fc.constant('swap' as const), at, to: at, bytes: fc.integer({ min: 1, max: 32 }) }),
  fc.record({
    kind: fc.constant('append' as const),
    text: fc.constantFrom('<svg onload="x()"/>', 'PK\x03\x04', '%PDF-1.7', '\0'.repeat(4096), 'GIF89a'),
  }),
);

/** Mostly one harm, seldom many: a file that is harmed everywhere is refused at its first byte. */
export const damages = fc.oneof(
  { arbitrary: fc.array(one, { minLength: 1, maxLength: 1 }), weight: 2 },
  { arbitrary: fc.array(one, { minLength: 2, maxLength: 6 }), weight: 1 },
);

const once = (bytes: Buffer, damage: Damage): Buffer => {
  if (damage.kind === 'append') return Buffer.concat([bytes, Buffer.from(damage.text, 'latin1')]);
  const place = Math.min(bytes.length - 1, Math.floor(damage.at * bytes.length));
  if (place < 0) return bytes;
  switch (damage.kind) {
    case 'cut':
      return bytes.subarray(0, place);
    case 'flip': {
      const harmed = Buffer.from(bytes);
      harmed[place] ^= 1 << damage.bit;
      return harmed;
    }
    case 'set':
      return Buffer.from(bytes).fill(damage.value, place, Math.min(bytes.length, place + damage.bytes));
    case 'drop':
      return Buffer.concat([bytes.subarray(0, place), bytes.subarray(place + damage.bytes)]);
    case 'repeat': {
      const piece = bytes.subarray(place, place + damage.bytes);
      return Buffer.concat([
        bytes.subarray(0, place),
        ...Array.from({ length: damage.times }, () => piece),
        bytes.subarray(place),
      ]);
    }
    case 'swap': {
      const harmed = Buffer.from(bytes);
      const to = Math.min(bytes.length - 1, Math.floor(damage.to * bytes.length));
      bytes.copy(harmed, to, place, Math.min(bytes.length, place + damage.bytes));
      return harmed;
    }
  }
};

/** The file with all harms done to it, one after another. */
export const damaged = (bytes: Buffer, harms: readonly Damage[]): Buffer => harms.reduce(once, bytes);
