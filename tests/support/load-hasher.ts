/** Loads SHA-256 before any test: a browser moved by hand does not wait for WebAssembly. */
import { loadHasher } from '../../src/record/seal';

await loadHasher();
