import type { IncomingMessage, Server } from 'node:http';
import type { Socket } from 'node:net';

export interface ConnectionLimits {
  /** Connections open at once. */
  readonly most: number;
  /** Of them from one address; a browser opens six. */
  readonly mostEach: number;
  /** How long one may stay open before the headers of its first request are there. */
  readonly silentMs: number;
  /** How long the headers of a request may take. */
  readonly headersMs: number;
  /** How long a whole request may take to arrive. */
  readonly requestMs: number;
  /** How long one may stay open without a byte either way; an answer may take the time of the queue. */
  readonly idleMs: number;
}

const addressOf = (socket: Socket): string => socket.remoteAddress?.replace(/^::ffff:/i, '') ?? '';

/**
 * Holds connections to limits, so that one neighbour with a script can't take them all. A connection too many is closed
 * without a word: reading what it says would cost what is to be saved.
 */
export const limitConnections = (server: Server, limits: ConnectionLimits): void => {
  const { most, mostEach, silentMs, headersMs, requestMs, idleMs } = limits;
  server.maxConnections = most;
  server.headersTimeout = headersMs;
  server.requestTimeout = requestMs;
  server.timeout = idleMs;
  const open = new Map<string, number>();
  const silent = new Map<Socket, NodeJS.Timeout>();
  const spoke = (socket: Socket): void => {
    clearTimeout(silent.get(socket));
    silent.delete(socket);
  };
  server.on('connection', (socket: Socket) => {
    const address = addressOf(socket);
    const count = open.get(address) ?? 0;
    if (count >= mostEach) {
      socket.destroy();
      return;
    }
    open.set(address, count + 1);
    // The server's own clock for headers starts with their first byte.
    silent.set(
      socket,
      setTimeout(() => socket.destroy(), silentMs),
    );
    socket.once('close', () => {
      spoke(socket);
      const left = (open.get(address) ?? 1) - 1;
      if (left > 0) open.set(address, left);
      else open.delete(address);
    });
  });
  server.on('request', ({ socket }: IncomingMessage) => spoke(socket));
};
