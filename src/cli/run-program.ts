/**
 * Runs other programs from the repository's root, where all commands work.
 */
import { spawn } from 'node:child_process';
import { fileURLToPath } from 'node:url';

/** The repository's root, with a slash at the end. */
export const ROOT = fileURLToPath(new URL('../../', import.meta.url));

/** Runs a program with our own input and output; gives its exit code, 1 where it was killed or not found. */
export function runProgram(
  program: string,
  args: readonly string[],
  env: Readonly<Record<string, string>> = {},
): Promise<number> {
  return new Promise((resolve) => {
    const child = spawn(program, args, {
      cwd: ROOT,
      stdio: 'inherit',
      env: { ...process.env, ...env },
    });
    child.on('error', (error) => {
      console.error(`${program}: ${error.message}`);
      resolve(1);
    });
    child.on('exit', (code) => resolve(code ?? 1));
  });
}

/** Runs the program of an installed package, such as "vite". */
export function runTool(
  tool: string,
  args: readonly string[],
  env?: Readonly<Record<string, string>>,
): Promise<number> {
  return runProgram(`${ROOT}node_modules/.bin/${tool}`, args, env);
}
