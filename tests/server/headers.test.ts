import { expect, it } from 'vitest';
import { doorsUnderTest } from '../helpers/doorsUnderTest.ts';

// Fetch standard and HTML standard: both headers are ignored, with a complaint, outside a secure context; loopback is one.
const ISOLATION = ['cross-origin-opener-policy', 'origin-agent-cluster'] as const;

it('asks the browser for isolation on the computer, and not over plain http on the network', async () => {
  const doors = doorsUnderTest();
  const [home, network] = [await doors.onComputer('/'), await doors.onNetwork('/')];
  for (const name of ISOLATION) {
    expect(home.headers.get(name)).not.toBeNull();
    expect(network.headers.get(name)).toBeNull();
  }
  for (const name of ['content-security-policy', 'x-frame-options', 'x-content-type-options'])
    expect(network.headers.get(name)).toBe(home.headers.get(name));
});
