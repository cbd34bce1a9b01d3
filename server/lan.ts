import { BlockList, isIPv4 } from 'node:net';
import type { NetworkInterfaceInfo } from 'node:os';

/** An address of this machine on a local network, and who counts as being on the same network. */
export interface LanAddress {
  readonly address: string;
  /** Length of the network's prefix in bits. */
  readonly prefixBits: number;
}

/** Blocks that the internet does not reach. Source: IANA IPv4 special-purpose registry (RFC 6890). */
const local = new BlockList();
for (const [net, bits] of [
  ['10.0.0.0', 8],
  ['100.64.0.0', 10],
  ['169.254.0.0', 16],
  ['172.16.0.0', 12],
  ['192.0.2.0', 24],
  ['192.168.0.0', 16],
  ['198.18.0.0', 15],
  ['198.51.100.0', 24],
  ['203.0.113.0', 24],
] as const)
  local.addSubnet(net, bits, 'ipv4');

/** Networks between programs of one machine; a phone is not on them. */
const BETWEEN_PROGRAMS = /^(docker|br-|veth|virbr|vmnet|vboxnet|utun|tun|tap|wg|lxc|cni)/i;

/**
 * Under which IPv4 addresses do phones on the local network reach this machine? The likeliest first. Addresses that
 * the internet reaches are left out.
 */
export const lanAddresses = (
  interfaces: NodeJS.Dict<readonly NetworkInterfaceInfo[]>,
): readonly LanAddress[] => {
  const found = Object.entries(interfaces).flatMap(([name, infos = []]) =>
    infos
      .filter((info) => info.family === 'IPv4' && !info.internal && local.check(info.address, 'ipv4'))
      .map(({ address, cidr }) => ({
        address,
        prefixBits: Number(cidr?.split('/')[1] ?? 32),
        rank: (BETWEEN_PROGRAMS.test(name) ? 2 : 0) + (address.startsWith('169.254.') ? 1 : 0),
      })),
  );
  return found.sort((a, b) => a.rank - b.rank).map(({ address, prefixBits }) => ({ address, prefixBits }));
};

/** Is `remote` on the same network as this address of ours? Never true for what is no IPv4 address. */
export const isNeighbour = ({ address, prefixBits }: LanAddress, remote: string | undefined): boolean => {
  if (remote === undefined || !isIPv4(remote)) return false;
  const network = new BlockList();
  network.addSubnet(address, prefixBits, 'ipv4');
  return network.check(remote, 'ipv4');
};
