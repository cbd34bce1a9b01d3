import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createBoundedMemory } from '../../server/boundedMemory.ts';

beforeEach(() => {
  vi.useFakeTimers();
});
afterEach(() => {
  vi.useRealTimers();
});

const memory = () => createBoundedMemory<string>({ mostBytes: 100, forMs: 1000 });

describe('a bounded memory of 100 bytes and 1 s', () => {
  it('gives back what it holds', () => {
    const held = memory();
    held.put('a', 'kelp', 40);
    expect([held.get('a'), held.get('b')]).toEqual(['kelp', undefined]);
  });

  it('lets the longest unused go when there is no more room', () => {
    const held = memory();
    held.put('a', 'kelp', 40);
    held.put('b', 'dulse', 40);
    held.get('a');
    held.put('c', 'laver', 40);
    expect([held.get('a'), held.get('b'), held.get('c')]).toEqual(['kelp', undefined, 'laver']);
  });

  it('counts a thing that is put again once', () => {
    const held = memory();
    for (let i = 0; i < 5; i++) held.put('a', `kelp ${i}`, 60);
    held.put('b', 'dulse', 40);
    expect([held.get('a'), held.get('b')]).toEqual(['kelp 4', 'dulse']);
  });

  it('does not hold 101 bytes, and keeps the rest', () => {
    const held = memory();
    held.put('a', 'kelp', 40);
    held.put('b', 'wrack', 101);
    expect([held.get('a'), held.get('b')]).toEqual(['kelp', undefined]);
  });

  it('lets a thing go 1 s after it was last asked for', () => {
    const held = memory();
    held.put('a', 'kelp', 40);
    vi.advanceTimersByTime(900);
    expect(held.get('a')).toBe('kelp');
    vi.advanceTimersByTime(900);
    expect(held.get('a')).toBe('kelp');
    vi.advanceTimersByTime(1001);
    expect(held.get('a')).toBeUndefined();
  });
});
