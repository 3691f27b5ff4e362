/** Serves the gallery with Vite on a free port. */
import { createServer } from 'vite';

/** Starts the server; the address is the gallery's page without a state. */
export async function serveGallery(): Promise<{ url: string; close: () => Promise<void> }> {
  const server = await createServer({
    logLevel: 'error',
    server: { port: 0, host: '127.0.0.1', hmr: false, watch: null },
  });
  await server.listen();
  const address = server.httpServer?.address();
  if (!address || typeof address === 'string') throw new Error('Vite has no port');
  return {
    url: `http://127.0.0.1:${address.port}/tests/browser/gallery/index.html`,
    close: () => server.close(),
  };
}
