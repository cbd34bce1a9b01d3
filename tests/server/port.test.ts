import { describe, expect, it } from 'vitest';
import { computerDoor, loopbackHosts, originsOf } from '../../server/door.ts';
import { portFrom } from '../../server/port.ts';

describe('portFrom', () => {
  it.each([
    [undefined, 4747],
    ['', 4747],
    ['8080', 8080],
    ['0', 0],
    ['65535', 65535],
    ['65536', null],
    ['-1', null],
    ['80.5', null],
    ['web', null],
  ] as const)('takes PORT=%j as %j', (text, port) => {
    expect(portFrom(text)).toBe(port);
  });
});

describe('loopback names', () => {
  it('go without the port on port 80, where browsers leave it out', () => {
    expect(loopbackHosts(80).has('localhost')).toBe(true);
    expect(loopbackHosts(4747).has('localhost')).toBe(false);
    expect(originsOf(loopbackHosts(80)).has('http://localhost')).toBe(true);
    expect(computerDoor(() => 80).address()).toBe('http://localhost');
  });
});
