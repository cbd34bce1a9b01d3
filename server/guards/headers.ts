import type { MiddlewareHandler } from 'hono';
import { secureHeaders } from 'hono/secure-headers';

/** Only this page's own script, style and pictures; nothing inline, nothing from elsewhere, no framing. */
export const headers: MiddlewareHandler = secureHeaders({
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
