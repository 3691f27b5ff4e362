/** The noise of rehearsals is the noise of the benches. */
export * from '../../src/cli/noise-mix';
