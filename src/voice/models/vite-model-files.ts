/**
 * Vite plugin: serves and emits models that come in packages: the recogniser's at
 * `voice/model/`, the text model at `model/text-model/`, beside those of `public/model`.
 * What is asked for below them and does not exist is really "not found": an answer with
 * the start page would be read as a model.
 */
import { createReadStream, readdirSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Connect, Plugin } from 'vite';

/** What lies in one folder of the site. */
interface Folder {
  /** Below the site's base, with slashes as in a URL. */
  readonly path: string;
  /** By name below it: the file on disk. */
  readonly files: ReadonlyMap<string, string>;
}

/** Which of the recogniser's models are shipped? Those of src/voice/languages/languages.ts. */
const MODEL_NAMES = ['en-us', 'fr-fr'];

/** Put this into vite.config.ts. */
export function viteModelFiles(): Plugin {
  const folders = [grammarModels(), textModel()];
  const platformBlob = fileURLToPath(new URL('../grammar/platform-blob.ts', import.meta.url));
  return {
    name: 'cuewall-model-files',
    config: () => ({
      resolve: { alias: { 'blob-polyfill': platformBlob } },
      // Bundled ahead, the package would look for its WebAssembly in the wrong folder.
      optimizeDeps: { exclude: ['soundswallower', 'onnxruntime-web'] },
      worker: { format: 'es' },
    }),
    configureServer: ({ middlewares }) => {
      for (const folder of folders) middlewares.use(serve(folder));
    },
    configurePreviewServer: ({ middlewares }) => {
      for (const folder of folders) middlewares.use(serve(folder));
    },
    generateBundle() {
      for (const { path, files } of folders)
        for (const [name, file] of files)
          this.emitFile({ type: 'asset', fileName: path + name, source: readFileSync(file) });
    },
  };
}

function grammarModels(): Folder {
  const source = join(folderOfPackage('soundswallower'), 'model');
  const names = MODEL_NAMES.flatMap((model) =>
    readdirSync(join(source, model)).map((name) => `${model}/${name}`),
  );
  return {
    path: 'voice/model/',
    files: new Map(names.map((name) => [name, join(source, name)])),
  };
}

/** The two files that are used of its package, and the licence that they come under. */
function textModel(): Folder {
  const source = folderOfPackage('@moonshine-ai/moonshine-js');
  const model = join(source, 'model/tiny/quantized');
  return {
    path: 'model/text-model/',
    files: new Map([
      ['encoder_model.onnx', join(model, 'encoder_model.onnx')],
      ['decoder_model_merged.onnx', join(model, 'decoder_model_merged.onnx')],
      ['LICENSE', join(source, '../LICENSE')],
    ]),
  };
}

/** Where a package's program lies. */
function folderOfPackage(name: string): string {
  return dirname(fileURLToPath(import.meta.resolve(name)));
}

function serve({ path, files }: Folder): Connect.NextHandleFunction {
  return (request, response, next) => {
    const [, rest] = (request.url ?? '').split(`/${path}`);
    if (rest === undefined) return next();
    const [name = ''] = rest.split('?');
    const file = files.get(name);
    if (file === undefined) {
      response.statusCode = 404;
      return response.end();
    }
    response.setHeader('content-type', 'application/octet-stream');
    createReadStream(file).pipe(response);
  };
}
