import type { MiddlewareHandler } from 'hono';
import { secureHeaders } from 'hono/secure-headers';
import type { Door } from '../door.ts';

/**
 * Isolation that browsers only grant where they trust the address: https or loopback. Over plain http on the local network
 * they ignore it and complain, so it is left out there.
 */
const isolation = ({ kind }: Door) => ({
  crossOriginOpenerPolicy: kind === 'computer',
  originAgentCluster: kind === 'computer',
});

/** Only this page's own script, style and pictures; nothing inline, nothing from elsewhere, no framing. */
export const headers = (door: Door): MiddlewareHandler =>
  secureHeaders({
    ...isolation(door),
    contentSecurityPolicy: {
      defaultSrc: ["'none'"],
      scriptSrc: ["'self'"],
      styleSrc: ["'self'"],
      imgSrc: ["'self'", 'blob:', 'data:'],
      connectSrc: ["'self'"],
      manifestSrc: ["'self'"],
      formAction: ["'none'"],
      frameAncestors: ["'none'"],
      baseUri: ["'none'"],
    },
    xFrameOptions: 'DENY',
    referrerPolicy: 'no-referrer',
    strictTransportSecurity: false,
    permissionsPolicy: { microphone: [], geolocation: [], payment: [], usb: [] },
  });
