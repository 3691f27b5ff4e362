/**
 * Orders about packs, labels, stock and the planning sheet in a running case: reads the
 * label, lets sizing decide, and hands back facts like any other order's. The
 * catalogue is the one that the record carries, else the built-in one.
 */
import { err, fault, ok } from '../../domain';
import type { Fact, Fault, ImplantOrder, LabelData, Result, Source } from '../../domain';
import { isPartial, joinLabels, readScan } from '../../labels';
import { contextOf, isClosed } from '../../procedure';
import type { CompiledProcedure, DecidedFact, Refusal } from '../../procedure';
import { catalogueFor, decideImplantOrder, loadCatalogue } from '../../sizing';
import type { Catalogue } from '../../sizing';
import type { CaseFacts } from '../case-facts';

/** Checked once: a catalogue is looked at with every view. */
const builtIn = new WeakMap<CompiledProcedure, { readonly found: Catalogue | null }>();
const adopted = new WeakMap<object, { readonly found: Catalogue | null }>();

type Decided = Result<readonly DecidedFact[], Refusal>;

/** The catalogue of a case; null where it has none, or one that can't be used. */
export function catalogueOf(compiled: CompiledProcedure, facts: CaseFacts): Catalogue | null {
  const { catalogue } = facts.implants;
  if (typeof catalogue === 'object' && catalogue !== null) {
    let known = adopted.get(catalogue);
    if (!known) {
      const loaded = loadCatalogue(catalogue);
      known = { found: loaded.ok ? loaded.value : null };
      adopted.set(catalogue, known);
    }
    return known.found;
  }
  let known = builtIn.get(compiled);
  if (!known) {
    known = { found: catalogueFor(compiled.procedure.id) };
    builtIn.set(compiled, known);
  }
  return known.found;
}

/** The facts that such an order leads to, or why it is refused. `atMs` is now, wall time. */
export function decideOnImplants(
  compiled: CompiledProcedure,
  facts: CaseFacts,
  order: ImplantOrder,
  source: Source,
  atMs: number,
): Decided {
  const refuse = (why: Fault): Decided => err({ fault: why, holdPoint: null, conditions: [] });
  if (isClosed(facts.state)) return refuse(fault('case-closed'));
  const today = localDay(atMs);
  const read =
    order.type === 'label.scan' ? readPack(order.text, Number(today.slice(0, 4))) : ok(null);
  if (!read.ok) return refuse(read.error);
  const context = {
    catalogue: catalogueOf(compiled, facts),
    log: facts.implants,
    confirmed: contextOf(facts.state).confirmed,
    side: facts.setup?.side ?? 'right',
    today,
  };
  const decided = decideImplantOrder(context, order, source, read.value);
  return decided.ok
    ? ok(decided.value.map((fact: Fact) => ({ fact, isConsequence: false })))
    : refuse(decided.error);
}

/** Reads what was scanned; two bar codes of one pack come on two lines. */
function readPack(text: string, thisYear: number): Result<LabelData, Fault> {
  const settings = { prefix: '', suffix: '', separator: '', thisYear };
  const [first = '', second] = text.split('\n');
  const one = readScan(first, settings);
  if (!one.ok || second === undefined || second === '')
    return one.ok ? needProduct(one.value) : one;
  const other = readScan(second, settings);
  return other.ok ? joinLabels(one.value, other.value) : other;
}

function needProduct(label: LabelData): Result<LabelData, Fault> {
  return isPartial(label)
    ? err(fault('label-needs', { part: 'This bar code', expected: 'the product number', at: '1' }))
    : ok(label);
}

/** The calendar day in this place, as an ISO day. */
function localDay(atMs: number): string {
  const date = new Date(atMs);
  const two = (value: number) => String(value).padStart(2, '0');
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}`;
}
