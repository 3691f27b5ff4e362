/**
 * Vite plugin: serves and emits the recogniser's model from node_modules at
 * `voice/model/`, with a real "not found" for the optional files that it asks for
 * and that do not exist (an answer with the start page would be read as a model).
 */
import { createReadStream, existsSync, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Connect, Plugin } from 'vite';

/** Where the model lies below the site's base, with slashes as in a URL. */
const MODEL_PATH = 'voice/model/';
/** Which of the package's models are shipped? Those of src/voice/languages.ts. */
const MODEL_NAMES = ['en-us', 'fr-fr'];

/** Put this into vite.config.ts. */
export function viteModelFiles(): Plugin {
  const source = join(dirname(fileURLToPath(import.meta.resolve('soundswallower'))), 'model');
  const platformBlob = fileURLToPath(new URL('./platform-blob.ts', import.meta.url));
  return {
    name: 'cuewall-model-files',
    config: () => ({
      resolve: { alias: { 'blob-polyfill': platformBlob } },
      // Bundled ahead, the package would look for its WebAssembly in the wrong folder.
      optimizeDeps: { exclude: ['soundswallower', 'onnxruntime-web'] },
      worker: { format: 'es' },
    }),
    configureServer: ({ middlewares }) => {
      middlewares.use(serveModel(source));
    },
    configurePreviewServer: ({ middlewares }) => {
      middlewares.use(serveModel(source));
    },
    generateBundle() {
      for (const model of MODEL_NAMES)
        for (const name of readdirSync(join(source, model))) {
          const fileName = `${MODEL_PATH}${model}/${name}`;
          this.emitFile({
            type: 'asset',
            fileName,
            source: readFileSync(join(source, model, name)),
          });
        }
    },
  };
}

function serveModel(source: string): Connect.NextHandleFunction {
  return (request, response, next) => {
    const [, rest] = (request.url ?? '').split(`/${MODEL_PATH}`);
    if (rest === undefined) return next();
    const [name = ''] = rest.split('?');
    const path = join(source, name);
    if (!/^[\w-]+\/[\w.]+$/.test(name) || !existsSync(path)) {
      response.statusCode = 404;
      return response.end();
    }
    response.setHeader('content-type', 'application/octet-stream');
    createReadStream(path).pipe(response);
  };
}
