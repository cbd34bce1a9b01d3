import { isNeighbour, type LanAddress } from './lan.ts';

/**
 * A way into the server. The computer's own is the loopback address: whoever can use it is logged in on this machine.
 * The network's stands open only with --lan, and only to neighbours with a paired phone.
 */
export interface Door {
  readonly kind: 'computer' | 'network';
  /** Host headers under which this door answers, in small letters. */
  readonly hosts: () => ReadonlySet<string>;
  /** The address to open, for people. */
  readonly address: () => string;
  /** Is this remote address let near at all? */
  readonly lets: (remote: string | undefined) => boolean;
}

const NAMES = ['localhost', '127.0.0.1', '[::1]'];

const withPort = (names: readonly string[], port: number): ReadonlySet<string> =>
  new Set(names.flatMap((name) => (port === 80 ? [name, `${name}:80`] : [`${name}:${port}`])));

/** The page's address under a name: browsers leave port 80 out. */
export const addressOf = (name: string, port: number): string =>
  port === 80 ? `http://${name}` : `http://${name}:${port}`;

/** The Host headers under which this machine reaches a server on its own loopback. */
export const loopbackHosts = (port: number): ReadonlySet<string> => withPort(NAMES, port);

/** The origins that a page under these hosts can have. */
export const originsOf = (hosts: ReadonlySet<string>): ReadonlySet<string> =>
  new Set([...hosts].map((host) => `http://${host}`));

export const computerDoor = (port: () => number): Door => ({
  kind: 'computer',
  hosts: () => loopbackHosts(port()),
  address: () => addressOf('localhost', port()),
  lets: () => true,
});

export const networkDoor = (lan: LanAddress, port: () => number): Door => ({
  kind: 'network',
  hosts: () => withPort([lan.address], port()),
  address: () => addressOf(lan.address, port()),
  lets: (remote) => isNeighbour(lan, remote),
});
