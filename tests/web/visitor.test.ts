import { describe, expect, it } from 'vitest';
import { isBookShut } from '../../web/phone/visitor.ts';

const visitor = (who: 'computer' | 'phone' | 'stranger', book: boolean) =>
  ({ visitor: who, phone: null, book, addresses: [] }) as const;

describe('the book in the navigation', () => {
  it('is marked as shut on a phone that it is not open to, and nowhere else', () => {
    expect(isBookShut(visitor('phone', false))).toBe(true);
    expect(isBookShut(visitor('phone', true))).toBe(false);
    expect(isBookShut(visitor('computer', true))).toBe(false);
    // Not known yet.
    expect(isBookShut(null)).toBe(false);
  });
});
