import type { Analyst } from '../../server/analyst.ts';
import { createApp } from '../../server/app.ts';
import { createDemos, loadDemoEntries } from '../../server/demos.ts';
import { computerDoor, type Door, networkDoor } from '../../server/door.ts';
import { createFaultLog } from '../../server/faultLog.ts';
import { createInbox, INBOX_LIMITS, type InboxLimits } from '../../server/inbox.ts';
import { createPairing } from '../../server/pairing.ts';
import { createPhotoPreviews } from '../../server/photoPreviews.ts';
import { createUploads } from '../../server/uploads.ts';
import { DEMO_FOLDER, directAnalyst, PORT, page } from './serverUnderTest.ts';
import { temporaryBook } from './temporaryBook.ts';

/** This machine's address on the network in tests, and two phones on it. */
export const LAN = '192.168.4.20';
export const PHONE = '192.168.4.31';
export const OTHER_PHONE = '192.168.4.32';
export const HOME = `http://localhost:${PORT}`;
export const NETWORK = `http://${LAN}:${PORT}`;

export interface Asked {
  readonly method?: string;
  readonly body?: BodyInit;
  readonly headers?: Readonly<Record<string, string>>;
  /** The address that the connection comes from. */
  readonly from?: string;
  readonly cookie?: string;
}

export interface DoorsOptions {
  readonly analyst?: Analyst;
  readonly inboxLimits?: InboxLimits;
  readonly uploadBytes?: number;
  readonly lan?: boolean;
}

/** One server with both of its doors, and a clock that is set by hand. */
export const doorsUnderTest = ({
  analyst = directAnalyst,
  inboxLimits = INBOX_LIMITS,
  uploadBytes = 400_000_000,
  lan = true,
}: DoorsOptions = {}) => {
  const logged: string[] = [];
  let clock = Date.parse('2026-06-01T08:00:00Z');
  const now = (): number => clock;
  const previews = createPhotoPreviews(analyst);
  const shared = {
    lan: () => (lan ? [NETWORK] : []),
    pairing: createPairing(now),
    inbox: createInbox({ limits: inboxLimits, now }),
    uploads: createUploads(uploadBytes),
    analyst,
    previews,
    demos: createDemos(loadDemoEntries(DEMO_FOLDER), analyst, previews),
    book: temporaryBook(analyst),
    version: '0.0.0-test',
    page,
    log: createFaultLog({ write: (line: string) => logged.push(line) }, { level: 'trace' }),
  };
  const appAt = (door: Door) => createApp({ ...shared, door });
  const computerApp = appAt(computerDoor(() => PORT));
  const networkApp = appAt(networkDoor({ address: LAN, prefixBits: 24 }, () => PORT));

  const asker =
    (app: typeof computerApp, origin: string, usualFrom: string) =>
    async (path: string, { method = 'GET', body, headers = {}, from = usualFrom, cookie }: Asked = {}) =>
      app.request(
        `${origin}${path}`,
        {
          method,
          ...(body !== undefined && { body }),
          ...(body instanceof ReadableStream && { duplex: 'half' }),
          headers: {
            host: new URL(origin).host,
            ...(method !== 'GET' && { origin }),
            ...(cookie !== undefined && { cookie }),
            ...headers,
          },
        } as RequestInit,
        { incoming: { socket: { remoteAddress: from } } },
      );

  const onComputer = asker(computerApp, HOME, '127.0.0.1');
  const onNetwork = asker(networkApp, NETWORK, PHONE);
  const exchange = (code: string, asked: Asked = {}) =>
    onNetwork('/api/pairing/exchange', {
      method: 'POST',
      body: JSON.stringify({ code }),
      ...asked,
      headers: { 'content-type': 'application/json', ...asked.headers },
    });
  const offer = async (): Promise<string> =>
    (await (await onComputer('/api/pairing', { method: 'POST' })).json()).code;

  return {
    logged,
    inbox: shared.inbox,
    onComputer,
    onNetwork,
    /** A new code, asked for on the computer. */
    offer,
    /** Hands a code in from a phone. */
    exchange,
    /** Pairs a phone; the cookie that it then sends. */
    pair: async (from: string = PHONE): Promise<string> => {
      const answer = await exchange(await offer(), { from });
      return (answer.headers.get('set-cookie') ?? '').split(';')[0];
    },
    wait: (ms: number): void => {
      clock += ms;
    },
  };
};
