/** The built-in catalogues: invented families, checked by the tests like any other file. */
import exampleH from './example-h.json';
import exampleS from './example-s.json';
import exampleW from './example-w.json';

export const BUILT_IN_CATALOGUES: readonly unknown[] = [exampleS, exampleW, exampleH];
