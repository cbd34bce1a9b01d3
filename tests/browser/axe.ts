import { readFileSync } from 'node:fs';
import { resolve } from 'node:path';
import type { AxeResults } from 'axe-core';
import type { Page } from 'playwright-core';

const axeSource = readFileSync(
  resolve(import.meta.dirname, '../../node_modules/axe-core/axe.min.js'),
  'utf8',
);

/** axe is run in a context of its own, so that the page's policy stays as strict as it is. */
export const violations = async (page: Page): Promise<readonly string[]> => {
  const session = await page.context().newCDPSession(page);
  const { frameTree } = await session.send('Page.getFrameTree');
  const { executionContextId } = await session.send('Page.createIsolatedWorld', {
    frameId: frameTree.frame.id,
    grantUniveralAccess: true,
  });
  const run = async (expression: string): Promise<unknown> => {
    const { result, exceptionDetails } = await session.send('Runtime.evaluate', {
      expression,
      contextId: executionContextId,
      awaitPromise: true,
      returnByValue: true,
    });
    if (exceptionDetails) throw new Error(exceptionDetails.exception?.description ?? exceptionDetails.text);
    return result.value;
  };
  await run(`${axeSource}; true`);
  const results = (await run('axe.run(document)')) as AxeResults;
  await session.detach();
  if (results.passes.length <= 10) throw new Error('axe checked next to nothing');
  return results.violations.map(
    ({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`,
  );
};
