import { z } from 'zod';
import { previewAnswer } from './answers.ts';
import type { Endpoint } from './endpoint.ts';
import { type ErrorCode, photoFileCodes } from './errors.ts';
import {
  exchangeAnswer,
  exchangeRequest,
  inboxAnswer,
  inboxReceipt,
  pairingOffer,
  pairingState,
  visitorAnswer,
} from './pairing.ts';
import { sheetRequest } from './sheets.ts';

const json = (schema: z.ZodType) => ({ status: 200, type: 'application/json', schema }) as const;
const byId = z.object({ id: z.string() });
const PHOTO: readonly ErrorCode[] = [
  'request-invalid',
  'upload-too-large',
  ...photoFileCodes,
  'busy',
  'timed-out',
];

/** How phones come in, what they send, and the sheet to print. */
export const doorEndpoints: readonly Endpoint[] = [
  {
    method: 'get',
    path: '/api/visitor',
    summary: 'Who is asking, and can phones reach this server?',
    response: json(visitorAnswer),
    errors: [],
  },
  {
    method: 'post',
    path: '/api/pairing/exchange',
    summary: 'Come in with a code; the session is in a cookie',
    request: { type: 'application/json', schema: exchangeRequest },
    response: json(exchangeAnswer),
    errors: ['request-invalid', 'upload-too-large', 'pairing-refused', 'pairing-limited', 'pairing-full'],
  },
  {
    method: 'post',
    path: '/api/pairing',
    summary: 'A new code for a phone; voids the one before',
    response: { status: 201, type: 'application/json', schema: pairingOffer },
    errors: ['computer-only', 'lan-off', 'pairing-full'],
  },
  {
    method: 'get',
    path: '/api/pairing',
    summary: 'Until when a code is open, and the paired phones',
    response: json(pairingState),
    errors: ['computer-only'],
  },
  {
    method: 'delete',
    path: '/api/pairing',
    summary: 'Void the open code',
    response: json(pairingState),
    errors: ['computer-only'],
  },
  {
    method: 'delete',
    path: '/api/pairing/phones/{id}',
    summary: "End a phone's session",
    params: byId,
    response: json(pairingState),
    errors: ['computer-only', 'not-found'],
  },
  {
    method: 'post',
    path: '/api/inbox',
    summary: 'Put a photo into the inbox; 200 where it is there already',
    request: {
      type: 'multipart/form-data',
      schema: z.object({ photo: z.file(), name: z.string().exactOptional() }),
    },
    response: { status: 201, type: 'application/json', schema: inboxReceipt },
    errors: ['request-invalid', 'upload-too-large', 'photo-format-unsupported', 'inbox-full', 'busy'],
  },
  {
    method: 'get',
    path: '/api/inbox',
    summary: 'Photos in the inbox, newest first',
    response: json(inboxAnswer),
    errors: [],
  },
  {
    method: 'get',
    path: '/api/inbox/events',
    summary: 'Changes of the inbox and of the paired phones, as server-sent events',
    response: { status: 200, type: 'text/event-stream' },
    errors: ['busy'],
  },
  {
    method: 'get',
    path: '/api/inbox/{id}/photo',
    summary: 'A photo of the inbox as it was sent',
    params: byId,
    response: { status: 200, type: 'image/*' },
    errors: ['not-found'],
  },
  {
    method: 'get',
    path: '/api/inbox/{id}/preview',
    summary: 'Make a small picture of a photo in the inbox',
    params: byId,
    response: json(previewAnswer),
    errors: ['not-found', ...PHOTO],
  },
  {
    method: 'delete',
    path: '/api/inbox/{id}',
    summary: 'Take a photo out of the inbox',
    params: byId,
    response: json(inboxAnswer),
    errors: ['not-found'],
  },
  {
    method: 'get',
    path: '/api/sheets',
    summary: 'The measuring sheet to print, for a plain link',
    query: z.object({ ...sheetRequest.unwrap().shape, seconds: z.string().exactOptional() }),
    response: { status: 200, type: 'application/pdf' },
    errors: ['request-invalid'],
  },
  {
    method: 'post',
    path: '/api/sheets',
    summary: 'The measuring sheet to print',
    request: { type: 'application/json', schema: sheetRequest },
    response: { status: 200, type: 'application/pdf' },
    errors: ['request-invalid', 'upload-too-large'],
  },
  {
    method: 'get',
    path: '/api/openapi.json',
    summary: 'This list for programs, as OpenAPI 3.1',
    response: { status: 200, type: 'application/json' },
    errors: [],
  },
  {
    method: 'get',
    path: '/api',
    summary: 'This list for people',
    response: { status: 200, type: 'text/html' },
    errors: [],
  },
];
