/**
 * Stands in for the package blob-polyfill, which touches `document` and so can't
 * run in a worker. Every browser this runs in has a Blob.
 */
export const Blob = globalThis.Blob;
