/**
 * Which folder may import which (DEVELOPERS.md has the table for people).
 * Each comment says where the import belongs instead.
 */
const peers = ['procedure', 'sizing', 'labels', 'review', 'record', 'voice', 'offline', 'windows'];

module.exports = {
  forbidden: [
    {
      name: 'domain-imports-nothing',
      comment: 'src/domain is the bottom. Move what you need into domain, or move this code up.',
      severity: 'error',
      from: { path: '^src/domain/' },
      to: { path: '^src/(?!domain/)' },
    },
    ...peers.map((peer) => ({
      name: `${peer}-imports-domain-only`,
      comment: `src/${peer} may import only src/domain and itself. Shared words belong in src/domain; joining two parts belongs in src/session.`,
      severity: 'error',
      from: { path: `^src/${peer}/` },
      to: { path: `^src/(?!${peer}/|domain/)` },
    })),
    {
      name: 'session-sees-ports-not-adapters',
      comment:
        'src/session sees procedure, sizing, labels, review and ports through index.ts. Adapters are built in src/main.ts or src/cli.',
      severity: 'error',
      from: { path: '^src/session/' },
      to: { path: '^src/(ui|cli|offline|main)' },
    },
    {
      name: 'ui-sees-session-review-sizing-domain',
      comment:
        'src/ui draws what session, review and sizing compute. Reach storage, voice or procedure through src/session.',
      severity: 'error',
      from: { path: '^src/ui/' },
      to: { path: '^src/(procedure|record|voice|offline|windows|labels|cli|main)' },
    },
    {
      name: 'one-door-a-folder',
      comment: 'Import the folder through its index.ts (a worker file may be named by its URL).',
      severity: 'error',
      from: { path: '^src/([^/]+)/' },
      to: {
        path: '^src/([^/]+)/(?!index\\.ts$)',
        pathNot: ['^src/$1/', '\\.worker\\.ts', '^src/procedure/library/', '\\.json$'],
      },
    },
    {
      name: 'no-cycles',
      comment: 'Break the circle: the shared part belongs below both.',
      severity: 'error',
      from: {},
      to: { circular: true },
    },
    {
      name: 'no-unresolved',
      comment: 'This import leads nowhere. (fhir/r4 has types only.)',
      severity: 'error',
      from: { path: '^src/' },
      to: { couldNotResolve: true, pathNot: ['^virtual:', '^fhir/r4$', '\\?url$'] },
    },
  ],
  options: {
    tsConfig: { fileName: 'tsconfig.json' },
    tsPreCompilationDeps: true,
    doNotFollow: { path: 'node_modules' },
    enhancedResolveOptions: {
      extensions: ['.ts', '.js', '.svelte', '.json'],
      exportsFields: ['exports'],
      conditionNames: ['svelte', 'browser', 'import', 'types', 'default'],
    },
  },
};
