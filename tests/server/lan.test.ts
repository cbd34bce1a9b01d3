import type { NetworkInterfaceInfo } from 'node:os';
import { describe, expect, it } from 'vitest';
import { isNeighbour, lanAddresses } from '../../server/lan.ts';
import { startOptions } from '../../server/startOptions.ts';

const card = (
  address: string,
  bits: number,
  more: Partial<NetworkInterfaceInfo> = {},
): NetworkInterfaceInfo =>
  ({
    address,
    netmask: '',
    mac: '',
    family: 'IPv4',
    internal: false,
    cidr: `${address}/${bits}`,
    ...more,
  }) as NetworkInterfaceInfo;

describe('lanAddresses', () => {
  it('puts Wi-Fi before networks between programs, and leaves loopback out', () => {
    const found = lanAddresses({
      lo: [card('127.0.0.1', 8, { internal: true })],
      docker0: [card('172.17.0.1', 16)],
      wlan0: [card('192.168.4.20', 24)],
      usb0: [card('169.254.7.7', 16)],
    });
    expect(found).toEqual([
      { address: '192.168.4.20', prefixBits: 24 },
      { address: '169.254.7.7', prefixBits: 16 },
      { address: '172.17.0.1', prefixBits: 16 },
    ]);
  });

  it.each(['10.1.2.3', '172.16.0.1', '172.31.255.1', '192.168.0.1', '100.64.0.1'])('takes %s', (address) => {
    expect(lanAddresses({ en0: [card(address, 24)] })).toHaveLength(1);
  });

  // Just outside the private blocks of RFC 1918 and RFC 6598.
  it.each(['8.8.8.8', '172.15.255.255', '172.32.0.1', '192.167.1.1', '100.128.0.1', '11.0.0.1'])(
    'leaves %s out, which the internet reaches',
    (address) => {
      expect(lanAddresses({ en0: [card(address, 24)] })).toEqual([]);
    },
  );
});

describe('isNeighbour', () => {
  it.each([
    ['192.168.4.20', 24, '192.168.4.255', true],
    ['192.168.4.20', 24, '192.168.5.1', false],
    ['192.168.4.20', 30, '192.168.4.23', true],
    ['192.168.4.20', 30, '192.168.4.24', false],
    ['10.0.0.5', 8, '10.255.1.1', true],
    ['192.168.4.20', 24, 'evil', false],
    ['192.168.4.20', 24, '::1', false],
    ['192.168.4.20', 24, undefined, false],
  ] as const)('of %s/%i: %s is %s', (address, prefixBits, remote, expected) => {
    expect(isNeighbour({ address, prefixBits }, remote)).toBe(expected);
  });
});

describe('startOptions', () => {
  const found = [
    { address: '192.168.4.20', prefixBits: 24 },
    { address: '10.0.0.5', prefixBits: 8 },
  ];

  it('stays on loopback where nothing is said', () => {
    expect(startOptions([], found)).toEqual({ kind: 'loopback' });
  });

  it('opens all addresses with --lan, one with --lan=ADDRESS', () => {
    expect(startOptions(['--lan'], found)).toEqual({ kind: 'lan', addresses: found });
    expect(startOptions(['--lan=10.0.0.5'], found)).toEqual({ kind: 'lan', addresses: [found[1]] });
  });

  it.each([
    [['--lan=0.0.0.0'], 'It has: 192.168.4.20, 10.0.0.5.'],
    [['--lan='], 'is not an address of this computer'],
    [['--open'], '"--open" is not known here'],
    [['--lan', 'now'], '"now" is not known here'],
  ] as const)('refuses %j in a sentence', (words, part) => {
    const options = startOptions(words, found);
    expect(options.kind).toBe('refused');
    expect(options.kind === 'refused' && options.sentence).toContain(part);
  });

  it('says to join the Wi-Fi where there is no network', () => {
    const options = startOptions(['--lan'], []);
    expect(options.kind === 'refused' && options.sentence).toContain('Join the Wi-Fi');
  });
});
