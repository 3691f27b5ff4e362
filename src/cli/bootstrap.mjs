/**
 * Where every npm command begins. Runs on Node alone: installs the packages when they
 * are missing or not those of package-lock.json, then hands over to the TypeScript
 * commands. It must import nothing that has to be installed.
 */
import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

/** The oldest Node that the packages accept (package.json, "engines"). */
const OLDEST_NODE = [20, 19];

const root = fileURLToPath(new URL('../../', import.meta.url));

/** Runs a program in the repository with our own input and output, passes signals on; gives its exit code. */
function run(program, args) {
  return new Promise((resolve) => {
    const child = spawn(program, args, { cwd: root, stdio: 'inherit' });
    for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
      process.on(signal, () => child.kill(signal));
    }
    child.on('error', (error) => {
      console.error(`${program}: ${error.message}`);
      resolve(1);
    });
    child.on('exit', (code) => resolve(code ?? 1));
  });
}

function readPackages(lockFile) {
  return JSON.parse(readFileSync(`${root}${lockFile}`, 'utf8')).packages;
}

/** Whether node_modules holds what package-lock.json asks for. Packages for other platforms may be absent. */
function isInstalled() {
  if (!existsSync(`${root}node_modules/.package-lock.json`)) return false;
  const installed = readPackages('node_modules/.package-lock.json');
  return Object.entries(readPackages('package-lock.json')).every(
    ([path, wanted]) =>
      path === '' ||
      (installed[path] ? installed[path].version === wanted.version : wanted.optional),
  );
}

const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
if (major < OLDEST_NODE[0] || (major === OLDEST_NODE[0] && minor < OLDEST_NODE[1])) {
  console.error(
    `Cuewall needs Node ${OLDEST_NODE.join('.')} or later; this is ${process.versions.node}.`,
  );
  process.exit(1);
}
if (!isInstalled()) {
  console.error('Installing the packages named in package-lock.json (npm ci); this happens once.');
  const code = await run('npm', ['ci', '--loglevel=error', '--no-progress']);
  if (code !== 0) process.exit(code);
}
process.exit(
  await run(process.execPath, ['--import', 'tsx', 'src/cli/main.ts', ...process.argv.slice(2)]),
);
