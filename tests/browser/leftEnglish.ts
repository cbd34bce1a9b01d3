import type { Page } from 'playwright-core';
import { english } from '../../web/words/english.ts';
import { german } from '../../web/words/german.ts';

/** All single words that a language's sentences are made of. */
const vocabularyOf = (value: unknown): ReadonlySet<string> => {
  const found = new Set<string>();
  const walk = (inner: unknown): void => {
    if (typeof inner === 'string')
      for (const word of inner.toLowerCase().match(/\p{L}{3,}/gu) ?? []) found.add(word);
    else if (typeof inner === 'function')
      walk(String(inner(...Array.from({ length: inner.length }, () => ''))));
    else for (const part of Object.values(inner as object)) walk(part);
  };
  walk(value);
  return found;
};

const own = vocabularyOf(german);
const onlyEnglish = new Set([...vocabularyOf(english)].filter((word) => !own.has(word)));

/**
 * Words on a German page that English has and German has not: in what is written, in fields, and in what a screen reader
 * says. Left out is what is marked as English, and `given`: names that people gave.
 */
export const leftEnglish = async (page: Page, given: readonly string[]): Promise<readonly string[]> => {
  const text = await page.evaluate(() => {
    const copy = document.body.cloneNode(true) as HTMLElement;
    for (const marked of copy.querySelectorAll('[lang="en"], noscript, code')) marked.remove();
    const said = ['aria-label', 'alt', 'title', 'placeholder'].flatMap((name) =>
      [...copy.querySelectorAll(`[${name}]`)].map((element) => element.getAttribute(name) ?? ''),
    );
    // Neighbours without a blank between them must not melt into one word.
    const texts: string[] = [];
    const walk = document.createTreeWalker(copy, NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) texts.push(node.textContent ?? '');
    return [document.title, ...texts, ...said].join(' ');
  });
  const rest = [...given]
    .sort((a, b) => b.length - a.length)
    .reduce((left, name) => left.replaceAll(name, ' '), text);
  return [...new Set(rest.toLowerCase().match(/\p{L}{3,}/gu))].filter((word) => onlyEnglish.has(word));
};
