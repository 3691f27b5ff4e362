/**
 * What the server says about every answer: what kind of file it is, how long it may
 * be kept, and what the page may do. The page may talk to its own origin only.
 */
import { extname } from 'node:path';

const MIME_TYPES: Readonly<Record<string, string>> = {
  '.css': 'text/css; charset=utf-8',
  '.html': 'text/html; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.map': 'application/json; charset=utf-8',
  '.mjs': 'text/javascript; charset=utf-8',
  '.ogg': 'audio/ogg',
  '.opus': 'audio/ogg; codecs=opus',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.wav': 'audio/wav',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
};

/** The type of a file by its name; bytes without a meaning where it is not known. */
export function fileToMimeType(path: string): string {
  return MIME_TYPES[extname(path).toLowerCase()] ?? 'application/octet-stream';
}

/** Content Security Policy Level 3. Own origin only; wasm may be compiled, text may not be run. */
const CONTENT_SECURITY_POLICY = [
  "default-src 'self'",
  "script-src 'self' 'wasm-unsafe-eval'",
  "style-src 'self'",
  "img-src 'self' data:",
  "media-src 'self' blob:",
  "connect-src 'self'",
  "worker-src 'self'",
  "object-src 'none'",
  "base-uri 'none'",
  "form-action 'none'",
  "frame-ancestors 'none'",
].join('; ');

/** Added where the server speaks TLS: this name is not asked without it for a year (RFC 6797). */
export const TLS_HEADERS: Readonly<Record<string, string>> = {
  'Strict-Transport-Security': 'max-age=31536000',
};

/** Headers of every answer, errors included. */
export const SECURITY_HEADERS: Readonly<Record<string, string>> = {
  'Content-Security-Policy': CONTENT_SECURITY_POLICY,
  'Permissions-Policy':
    'microphone=(self), camera=(self), screen-wake-lock=(self), fullscreen=(self), geolocation=(), display-capture=(), payment=(), usb=(), serial=()',
  'Cross-Origin-Opener-Policy': 'same-origin',
  'Cross-Origin-Embedder-Policy': 'require-corp',
  'Cross-Origin-Resource-Policy': 'same-origin',
  'Referrer-Policy': 'no-referrer',
  'X-Content-Type-Options': 'nosniff',
};

/** How long a file may be kept: for ever where its name holds a hash of its content, not unasked otherwise. */
export function fileToCacheControl(urlPath: string): string {
  const isHashed = /^\/assets\/.+-[\w-]{8}\.\w+$/.test(urlPath);
  return isHashed ? 'public, max-age=31536000, immutable' : 'no-cache';
}
