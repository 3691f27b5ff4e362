/** Finds the catalogue of a procedure among the built-in ones, or reads one that a case brought. */
import { err, fault } from '../../domain';
import type { Fault, Result } from '../../domain';
import { BUILT_IN_CATALOGUES } from '../library';
import { checkCatalogue } from './check';
import type { Catalogue } from './format';

/** Reads a catalogue; the fault names the first thing wrong with it. */
export function loadCatalogue(data: unknown): Result<Catalogue, Fault> {
  const checked = checkCatalogue(data);
  if (checked.ok) return checked;
  const [first] = checked.error;
  return err(
    fault('catalogue-invalid', {
      path: first?.path ?? '',
      expected: first?.expected ?? '',
      received: first?.received ?? '',
    }),
  );
}

/** The built-in catalogue that names a procedure; null where none does. */
export function catalogueFor(procedureId: string): Catalogue | null {
  for (const data of BUILT_IN_CATALOGUES) {
    const checked = checkCatalogue(data);
    if (checked.ok && checked.value.procedures.includes(procedureId)) return checked.value;
  }
  return null;
}
