/**
 * Serves the files of one folder over HTTP, and nothing else: an unknown path is a
 * real 404, a path that leads out of the folder too. Answers only to the names of
 * this machine, so that a foreign page can't reach it by giving its own name our
 * address.
 */
import { createReadStream } from 'node:fs';
import { realpath, stat } from 'node:fs/promises';
import { createServer } from 'node:http';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import { join, sep } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { SECURITY_HEADERS, TLS_HEADERS, fileToCacheControl, fileToMimeType } from './serve-headers';

const OWN_NAMES: ReadonlySet<string> = new Set(['127.0.0.1', 'localhost', '[::1]']);

interface Found {
  readonly path: string;
  readonly size: number;
}

/** What the server needs to be reached from other machines. */
export interface TlsIdentity {
  /** Certificate chain and private key, PEM. */
  readonly cert: string;
  readonly key: string;
  /** The name that the certificate is for, and that the server answers to. */
  readonly name: string;
}

/** A server over a folder; it does not listen yet. With an identity it speaks TLS 1.2 or later. */
export function createStaticServer(folder: string, identity: TlsIdentity | null = null): Server {
  const names = new Set([...OWN_NAMES, ...(identity ? [identity.name] : [])]);
  const listener = (request: IncomingMessage, response: ServerResponse): void => {
    if (identity) setHeaders(response, TLS_HEADERS);
    answer(folder, names, request, response).catch((reason: unknown) => {
      // A reader that goes away in the middle is no fault of ours; a disk that fails is.
      if (!isPrematureClose(reason)) console.error(`${request.url}: ${String(reason)}`);
      response.destroy();
    });
  };
  if (identity === null) return createServer(listener);
  const { cert, key } = identity;
  return createTlsServer({ cert, key, minVersion: 'TLSv1.2' }, listener);
}

function setHeaders(response: ServerResponse, headers: Readonly<Record<string, string>>): void {
  for (const [name, value] of Object.entries(headers)) response.setHeader(name, value);
}

async function answer(
  folder: string,
  names: ReadonlySet<string>,
  request: IncomingMessage,
  response: ServerResponse,
): Promise<void> {
  setHeaders(response, SECURITY_HEADERS);
  const host = (request.headers.host ?? '').replace(/:\d+$/, '');
  if (!names.has(host)) {
    refuse(response, 421, `This server answers to ${[...names].join(', ')} only.`);
    return;
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') {
    response.setHeader('Allow', 'GET, HEAD');
    refuse(response, 405, 'Only GET and HEAD are answered.');
    return;
  }
  const urlPath = toUrlPath(request.url ?? '/');
  const found = urlPath === null ? null : await findFile(folder, urlPath);
  if (urlPath === null || found === null) {
    refuse(response, 404, 'There is no such file.');
    return;
  }
  response.writeHead(200, {
    'Content-Type': fileToMimeType(found.path),
    'Content-Length': found.size,
    'Cache-Control': fileToCacheControl(urlPath),
  });
  if (request.method === 'HEAD') response.end();
  else await pipeline(createReadStream(found.path), response);
}

function refuse(response: ServerResponse, status: number, text: string): void {
  response.writeHead(status, { 'Content-Type': 'text/plain; charset=utf-8' });
  response.end(`${text}\n`);
}

/** The path asked for, decoded; null where it can't be one of ours. */
function toUrlPath(url: string): string | null {
  const [path = ''] = url.split(/[?#]/);
  try {
    const decoded = decodeURIComponent(path);
    const isPlain = decoded.startsWith('/') && !/[\0\\]/.test(decoded);
    return isPlain && !decoded.split('/').includes('..') ? decoded : null;
  } catch (reason) {
    // A broken escape is not a path of ours.
    if (reason instanceof URIError) return null;
    throw reason;
  }
}

/** The file at a path inside the folder, links followed; null where there is none. */
async function findFile(folder: string, urlPath: string): Promise<Found | null> {
  try {
    const base = await realpath(folder);
    const path = await realpath(join(base, urlPath === '/' ? 'index.html' : urlPath));
    if (!path.startsWith(base + sep)) return null;
    const { size, ...found } = await stat(path).then((it) => ({
      size: it.size,
      isFile: it.isFile(),
    }));
    return found.isFile ? { path, size } : null;
  } catch (reason) {
    if (reason instanceof Error && 'code' in reason && isAbsent(reason.code)) return null;
    throw reason;
  }
}

function isAbsent(code: unknown): boolean {
  return code === 'ENOENT' || code === 'ENOTDIR' || code === 'ENAMETOOLONG';
}

function isPrematureClose(reason: unknown): boolean {
  return (
    reason instanceof Error && 'code' in reason && reason.code === 'ERR_STREAM_PREMATURE_CLOSE'
  );
}
