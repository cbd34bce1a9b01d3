import { z } from 'zod';
import { archiveAnswer } from './archive.ts';
import type { Endpoint } from './endpoint.ts';
import { type ErrorCode, photoFileCodes } from './errors.ts';
import { cgatsQuery, reportForm, reportQuery } from './exchange.ts';
import { id } from './recordText.ts';

const byId = z.object({ id });
const BOOK: readonly ErrorCode[] = ['book-unavailable', 'book-busy', 'request-invalid', 'not-found'];

/** What goes out of the book and comes into it. */
export const exchangeEndpoints: readonly Endpoint[] = [
  {
    method: 'get',
    path: '/api/record/readings/{id}/report',
    visitors: 'book',
    summary: 'A kept reading on paper, as a PDF',
    params: byId,
    query: reportQuery,
    response: { status: 200, type: 'application/pdf' },
    errors: [...BOOK, 'busy', 'timed-out'],
  },
  {
    method: 'get',
    path: '/api/record/readings/{id}/steps',
    visitors: 'book',
    summary: 'The steps of a kept reading, as CSV',
    params: byId,
    response: { status: 200, type: 'text/csv' },
    errors: BOOK,
  },
  {
    method: 'get',
    path: '/api/record/readings/{id}/curve',
    visitors: 'book',
    summary: 'The curve of a kept reading with its interval, as CSV',
    params: byId,
    response: { status: 200, type: 'text/csv' },
    errors: [...BOOK, 'no-calibration'],
  },
  {
    method: 'get',
    path: '/api/record/readings/{id}/cgats',
    visitors: 'book',
    summary: 'The measurements of a kept reading, as CGATS.17 text',
    params: byId,
    query: cgatsQuery,
    response: { status: 200, type: 'text/plain' },
    errors: BOOK,
  },
  {
    method: 'post',
    path: '/api/reports',
    visitors: 'phone',
    summary: 'A reading that is not kept on paper, as a PDF',
    request: { type: 'multipart/form-data', schema: reportForm },
    response: { status: 200, type: 'application/pdf' },
    errors: ['request-invalid', 'upload-too-large', ...photoFileCodes, 'busy', 'timed-out'],
  },
  {
    method: 'get',
    path: '/api/record/archive',
    visitors: 'computer',
    summary: 'The whole book with its photos, as one archive',
    response: { status: 200, type: 'application/zip' },
    errors: ['book-unavailable', 'book-busy'],
  },
  {
    method: 'post',
    path: '/api/record/archive',
    visitors: 'computer',
    summary: 'Bring an archive into the book: all of it or nothing, and nothing twice',
    request: { type: 'application/zip', schema: z.file() },
    response: { status: 200, type: 'application/json', schema: archiveAnswer },
    errors: [
      'request-invalid',
      'computer-only',
      'archive-invalid',
      'archive-damaged',
      'archive-too-large',
      'disk-full',
      'book-read-only',
      'book-conflict',
      'book-unavailable',
      'book-busy',
    ],
  },
];
