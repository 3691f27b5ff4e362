/**
 * The commands behind `npm run …`. Each is a file of this folder with a function
 * `run`, loaded only when it is asked for; it gives the exit code.
 */

/** What a command file exports. */
interface Command {
  run(args: readonly string[]): Promise<number>;
}

const COMMANDS = [
  'start', 'serve', 'test', 'rehearse', 'bench', 'verify', 'check-procedure', 'check-spec-ids',
  'list-clips', 'listen', 'make-clips', 'make-error-docs', 'make-pictures',
  'make-procedure-docs', 'make-training-pack',
] as const; // prettier-ignore

async function main([name, ...args]: readonly string[]): Promise<number> {
  const known = COMMANDS.find((command) => command === name);
  if (known === undefined) {
    console.error(`Unknown command "${name ?? ''}". There are: ${COMMANDS.join(', ')}.`);
    return 2;
  }
  const command = (await import(new URL(`./${known}.ts`, import.meta.url).href)) as Command;
  return command.run(args);
}

process.exit(await main(process.argv.slice(2)));
