/** `npm start`: builds the product if needed and serves it on this machine. */
import { buildIfOlder } from './build';
import { run as serve } from './serve';

/** Gives the exit code of the build if it fails, else serves until ended. */
export async function run(): Promise<number> {
  const built = await buildIfOlder();
  return built === 0 ? serve() : built;
}
