/** From a file's data, or a built-in name, to a procedure that runs. */
import { err, fault, ok } from '../domain';
import type { Fault, Result } from '../domain';
import { checkProcedure, inspectProcedure, readProcedure, readRecordedProcedure } from './check';
import type { Finding } from './check';
import { compileProcedure } from './compile';
import type { CompiledProcedure } from './compile';
import { BUILT_IN } from './library';
import { initialState } from './state';

/** Compiles unknown data; the fault names the first finding. */
export function loadProcedure(data: unknown): Result<CompiledProcedure, Fault> {
  const checked = checkProcedure(data);
  if (checked.ok) return ok(compileProcedure(checked.value));
  return err(toFault(checked.error));
}

/**
 * Compiles the procedure that a record carries. A record stays readable for ever: rules
 * that came later are no reason to refuse it; only what can't be compiled is.
 */
export function loadRecordedProcedure(data: unknown): Result<CompiledProcedure, Fault> {
  try {
    const { procedure, findings } = readRecordedProcedure(data);
    if (!procedure) return err(toFault(findings));
    const compiled = compileProcedure(procedure);
    // A machine that leads to a state it lacks says so when it starts.
    initialState(compiled);
    return ok(compiled);
  } catch {
    return err(toFault(readProcedure(data).findings));
  }
}

/** How many states may be walked while somebody waits for a chosen file to open? */
const MOST_STATES_ON_IMPORT = 1500;

/** The same for a file that somebody brought: also walked through, as far as a short wait allows. */
export function importProcedure(
  data: unknown,
  isTimeUp: () => boolean = () => false,
): Result<CompiledProcedure, Fault> {
  const options = { most: MOST_STATES_ON_IMPORT, isTimeUp };
  const { compiled, canRun, findings } = inspectProcedure(data, options);
  return compiled && canRun ? ok(compiled) : err(toFault(findings));
}

function toFault(findings: readonly Finding[]): Fault {
  const first = findings.find(({ isFatal }) => isFatal);
  const { path = '(file)', expected = 'a procedure', received = 'nothing' } = first ?? {};
  const finding = `At ${path}: expected ${expected}, found ${received}`;
  return fault('procedure-invalid', { finding, path, expected, received });
}

/** Compiles a procedure that comes with the program. */
export function loadBuiltIn(name: string): Result<CompiledProcedure, Fault> {
  const data = BUILT_IN[name];
  return data === undefined ? err(fault('procedure-unknown', { name })) : loadProcedure(data);
}

/** Names and titles of the built-in procedures that pass the checks. */
export function listBuiltIn(): readonly {
  readonly id: string;
  readonly title: string;
  readonly note: string;
}[] {
  return Object.values(BUILT_IN).flatMap((data) => {
    const checked = checkProcedure(data);
    return checked.ok
      ? [{ id: checked.value.id, title: checked.value.title, note: checked.value.note }]
      : [];
  });
}
