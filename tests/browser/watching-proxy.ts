/**
 * A proxy that all of a browser's traffic goes through, that of its workers included. It
 * hands on what is asked of one server, for as long as that listens, and notes every other
 * address that anything asks for.
 */
import { createServer, request } from 'node:http';
import type { IncomingMessage, Server, ServerResponse } from 'node:http';
import { once } from 'node:events';
import type { AddressInfo } from 'node:net';

export interface WatchingProxy {
  /** For Chromium's command line. The loopback addresses go through the proxy as well. */
  readonly args: readonly string[];
  /** Every address of another origin that was asked for, and hosts that a tunnel was asked to. */
  readonly strangers: readonly string[];
  close(): Promise<void>;
}

/** Listens on loopback at a port of its own. `origin` is that of the product. */
export async function startWatchingProxy(origin: string): Promise<WatchingProxy> {
  const strangers: string[] = [];
  const proxy = createServer((asked, answer) => {
    const url = asked.url ?? '';
    if (url.startsWith(`${origin}/`)) handOn(url, asked, answer);
    else {
      strangers.push(url);
      answer.writeHead(502).end();
    }
  });
  // Anything encrypted, and every web socket, asks for a tunnel first.
  proxy.on('connect', (asked: IncomingMessage, socket: NodeJS.WritableStream) => {
    const host = asked.url ?? '';
    if (host !== new URL(origin).host) strangers.push(host);
    socket.end('HTTP/1.1 502 Bad Gateway\r\n\r\n');
  });
  proxy.listen(0, '127.0.0.1');
  await once(proxy, 'listening');
  const { port } = proxy.address() as AddressInfo;
  return {
    args: [
      `--proxy-server=http://127.0.0.1:${port}`,
      '--proxy-bypass-list=<-loopback>',
      ...withoutOwnErrands(origin),
    ],
    strangers,
    close: () => stopServer(proxy),
  };
}

/** What a browser asks its maker for by itself is not asked by the page: off, or sent to ourselves. */
function withoutOwnErrands(origin: string): readonly string[] {
  return [
    '--disable-features=OptimizationHints,OptimizationGuideModelDownloading,AutofillServerCommunication,NetworkTimeServiceQuerying',
    `--gaia-url=${origin}`,
    // Chromium ends itself where this one is not encrypted.
    `--optimization-guide-service-get-models-url=${origin.replace('http:', 'https:')}/none`,
    `--component-updater=url-source=${origin}/none`,
    `--apps-gallery-update-url=${origin}/none`,
  ];
}

function handOn(url: string, asked: IncomingMessage, answer: ServerResponse): void {
  const onward = request(url, { method: asked.method, headers: asked.headers }, (given) => {
    answer.writeHead(given.statusCode ?? 502, given.headers);
    given.pipe(answer);
  });
  // The server is gone: what a browser sees of that.
  onward.on('error', () => answer.destroy());
  asked.pipe(onward);
}

/** Stops listening and drops what is still open. */
export async function stopServer(server: Server): Promise<void> {
  server.closeAllConnections();
  await new Promise((resolve) => server.close(resolve));
}
