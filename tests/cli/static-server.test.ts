/** What the server gives, refuses and says about it. */
import { execFileSync } from 'node:child_process';
import { mkdir, mkdtemp, readFile, rm, symlink, writeFile } from 'node:fs/promises';
import { request } from 'node:http';
import type { IncomingHttpHeaders, Server } from 'node:http';
import { request as tlsRequest } from 'node:https';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { listenFrom, serve } from '../../src/cli/serve';
import { createStaticServer } from '../../src/cli/static-server';

interface Answer {
  readonly status: number;
  readonly headers: IncomingHttpHeaders;
  readonly body: string;
}

let outer: string;
let server: Server;

beforeEach(async () => {
  outer = await mkdtemp(join(tmpdir(), 'cuewall-serve-'));
  const folder = join(outer, 'dist');
  await mkdir(join(folder, 'assets'), { recursive: true });
  await writeFile(join(outer, 'secret.txt'), 'secret');
  await writeFile(join(folder, 'index.html'), '<!doctype html>');
  await writeFile(join(folder, 'assets/app-Ab3_x-9Z.js'), 'export {};');
  for (const name of [
    'a b.txt',
    'listener.wasm',
    'clip.ogg',
    'clip.opus',
    'font.woff2',
    'odd.bin',
  ]) {
    await writeFile(join(folder, name), name);
  }
  await symlink(join(outer, 'secret.txt'), join(folder, 'link.txt'));
  server = createStaticServer(folder);
  await listenFrom(server, 0);
});

afterEach(async () => {
  await new Promise((resolve) => server.close(resolve));
  await rm(outer, { recursive: true });
});

/** A request whose path goes over the wire as it is: fetch would tidy it up. */
function ask(path: string, options: { method?: string; host?: string } = {}): Promise<Answer> {
  const { port } = server.address() as AddressInfo;
  const headers = { host: options.host ?? `127.0.0.1:${port}` };
  return new Promise((resolve, reject) => {
    const asked = request(
      { host: '127.0.0.1', port, path, method: options.method ?? 'GET', headers, agent: false },
      (response) => {
        let body = '';
        response.setEncoding('utf8');
        response.on('data', (chunk: string) => (body += chunk));
        response.on('end', () => {
          resolve({ status: response.statusCode ?? 0, headers: response.headers, body });
        });
      },
    );
    asked.on('error', reject);
    asked.end();
  });
}

describe('what is served', () => {
  test('[TOO1] the page at the root, and files by their names', async () => {
    expect((await ask('/')).body).toBe('<!doctype html>');
    expect((await ask('/index.html?x=1')).body).toBe('<!doctype html>');
    expect((await ask('/a%20b.txt')).body).toBe('a b.txt');
  });

  // Types registered with IANA (Media Types); audio/ogg with codecs: RFC 5334, section 4.
  test.each([
    ['/', 'text/html; charset=utf-8'],
    ['/assets/app-Ab3_x-9Z.js', 'text/javascript; charset=utf-8'],
    ['/listener.wasm', 'application/wasm'],
    ['/clip.ogg', 'audio/ogg'],
    ['/clip.opus', 'audio/ogg; codecs=opus'],
    ['/font.woff2', 'font/woff2'],
    ['/odd.bin', 'application/octet-stream'],
  ])('[TOO1] %s is %s', async (path, type) => {
    expect((await ask(path)).headers['content-type']).toBe(type);
  });

  test('[TOO1] HEAD gives the headers only; other methods are refused', async () => {
    const head = await ask('/', { method: 'HEAD' });
    expect([head.status, head.body, head.headers['content-length']]).toEqual([200, '', '15']);
    const post = await ask('/', { method: 'POST' });
    expect([post.status, post.headers.allow]).toEqual([405, 'GET, HEAD']);
  });
});

describe('what is refused', () => {
  test.each([
    '/nothing',
    '/assets',
    '/assets/',
    '/desk',
    '/%',
    '/%E0%A4%A',
    '/index.html%00',
    `/${'x'.repeat(300)}`,
  ])('[TOO2] %s is a real 404', async (path) => {
    const { status, body } = await ask(path);
    expect([status, body]).toEqual([404, 'There is no such file.\n']);
  });

  test.each([
    '/../secret.txt',
    '/assets/../../secret.txt',
    '/%2e%2e/secret.txt',
    '/..%2fsecret.txt',
    '/assets/..%2f..%2fsecret.txt',
    '/..\\secret.txt',
    '/..%5csecret.txt',
    '//../secret.txt',
    '/link.txt',
  ])('[TOO3] %s does not lead out of the folder', async (path) => {
    const { status, body } = await ask(path);
    expect(body).not.toContain('secret');
    expect(status).toBe(404);
  });

  test('[TOO4] listens on the loopback address only', () => {
    expect((server.address() as AddressInfo).address).toBe('127.0.0.1');
  });

  test('[TOO4] a page of another name that points to this machine is turned away', async () => {
    expect((await ask('/', { host: 'wall.example' })).status).toBe(421);
    expect((await ask('/', { host: 'localhost:1' })).status).toBe(200);
  });
});

describe('what is said about it', () => {
  // Names and forms: CSP Level 3, Permissions Policy (W3C), HTML (COOP, COEP), Fetch (CORP, nosniff).
  test.each(['/', '/nothing', '/assets/app-Ab3_x-9Z.js'])('[TOO5] %s comes with strict headers', async (path) => {
    const { headers } = await ask(path);
    const directives = String(headers['content-security-policy']).split('; ');
    expect(Object.fromEntries(directives.map((it) => [it.split(' ')[0], it.split(' ').slice(1)]))).toEqual({
      'default-src': ["'self'"],
      'script-src': ["'self'", "'wasm-unsafe-eval'"],
      'style-src': ["'self'"],
      'img-src': ["'self'", 'data:'],
      'media-src': ["'self'", 'blob:'],
      'connect-src': ["'self'"],
      'worker-src': ["'self'"],
      'object-src': ["'none'"],
      'base-uri': ["'none'"],
      'form-action': ["'none'"],
      'frame-ancestors': ["'none'"],
    });
    const features = String(headers['permissions-policy']).split(', ').map((it) => it.split('='));
    expect(Object.fromEntries(features)).toEqual({
      microphone: '(self)', camera: '(self)', 'screen-wake-lock': '(self)', fullscreen: '(self)',
      geolocation: '()', 'display-capture': '()', payment: '()', usb: '()', serial: '()',
    });
    expect(headers).toMatchObject({
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-embedder-policy': 'require-corp',
      'cross-origin-resource-policy': 'same-origin',
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
    });
  }); // prettier-ignore

  test('[TOO6] only files with a hash in their name may be kept unasked', async () => {
    const hashed = await ask('/assets/app-Ab3_x-9Z.js');
    expect(hashed.headers['cache-control']).toBe('public, max-age=31536000, immutable');
    expect((await ask('/')).headers['cache-control']).toBe('no-cache');
    expect((await ask('/listener.wasm')).headers['cache-control']).toBe('no-cache');
  });
});

test('[TOO7] takes the next port where one is taken', async () => {
  const { port } = server.address() as AddressInfo;
  const second = createStaticServer(outer);
  expect(await listenFrom(second, port)).toBeGreaterThan(port);
  await new Promise((resolve) => second.close(resolve));
});

describe('beyond this machine', () => {
  test('[TOO20] is not served without a certificate, and says what a browser would refuse', async () => {
    const said: string[] = [];
    const print = vi.spyOn(console, 'error').mockImplementation((text: string) => said.push(text));
    expect(await serve({ HOST: '0.0.0.0', PORT: '0' })).toBe(2);
    print.mockRestore();
    expect(said.join()).toMatch(/microphone[^]*service worker[^]*TLS_CERT/);
  });

  test('[TOO20] is served over TLS under its own name', async () => {
    const [key, cert] = [join(outer, 'key.pem'), join(outer, 'cert.pem')];
    execFileSync(
      'openssl',
      ['req', '-x509', '-newkey', 'rsa:2048', '-nodes', '-subj', '/CN=wall.example', '-days', '2', '-keyout', key, '-out', cert],
      { stdio: 'ignore' },
    ); // prettier-ignore
    const identity = {
      key: await readFile(key, 'utf8'),
      cert: await readFile(cert, 'utf8'),
      name: 'wall.example',
    };
    const tls = createStaticServer(join(outer, 'dist'), identity);
    const port = await listenFrom(tls, 0);
    const { status, headers } = await new Promise<Pick<Answer, 'status' | 'headers'>>((resolve, reject) => {
      const asked = tlsRequest(
        { host: '127.0.0.1', port, path: '/', headers: { host: 'wall.example' }, rejectUnauthorized: false, agent: false },
        (response) => {
          response.resume();
          resolve({ status: response.statusCode ?? 0, headers: response.headers });
        },
      );
      asked.on('error', reject);
      asked.end();
    }); // prettier-ignore
    tls.closeAllConnections();
    await new Promise((resolve) => tls.close(resolve));
    expect(status).toBe(200);
    expect(headers['strict-transport-security']).toBe('max-age=31536000');
  });
});
