/**
 * The catalogue format, version 1: a family of implants and the instruments that go
 * with it, as data. It is the same for every operation: components come in sizes,
 * slots say where in a case a component goes and which captures choose its size, fits
 * say which size goes with which. Explained in docs/catalogue-format.md.
 */
import * as v from 'valibot';

const Id = v.pipe(
  v.string(),
  v.regex(/^[a-z0-9]+(?:-[a-z0-9]+)*$/, 'expected lower-case words joined by hyphens'),
  // Ids are keys of plain objects.
  v.check((id) => !(id in {}), 'a word that means something to the machine itself can’t be an id'),
);
const Text = (max: number) => v.pipe(v.string(), v.trim(), v.minLength(1), v.maxLength(max));
const Value = v.union([v.pipe(v.number(), v.finite()), Id]);

/** One thing by which sizes of a component differ: an angle, a length, a kind. */
const Attribute = v.strictObject({
  id: Id,
  title: Text(16),
  unit: v.picklist(['mm', 'deg', 'none']),
  values: v.pipe(v.array(Value), v.minLength(1)),
});

const Component = v.strictObject({
  id: Id,
  title: Text(24),
  kind: v.picklist(['implant', 'trial', 'instrument']),
  attributes: v.array(Attribute),
  /** Whether left and right are different articles. */
  sided: v.optional(v.boolean(), false),
  /** Whether it comes in a sterile pack of its own, to be opened in the case. */
  sterilePack: v.optional(v.boolean(), false),
  /** Where the holes of a plate lie, in degrees from its thick side, clockwise as seen. */
  holes: v.optional(v.array(v.pipe(v.number(), v.minValue(0), v.maxValue(359)))),
  /** How wide its round face is, in millimetres, by the value of one attribute. */
  width: v.optional(
    v.strictObject({ by: Id, mm: v.record(Id, v.pipe(v.number(), v.minValue(1))) }),
  ),
  /** Product numbers of labels by article, as far as they are known. */
  numbers: v.optional(v.record(Text(80), v.array(Text(30))), {}),
});

const Slot = v.strictObject({
  id: Id,
  title: Text(24),
  component: Id,
  /** Which capture of the procedure chooses each attribute. */
  from: v.record(Id, Id),
});

/** One end of a fit: an attribute of a component. */
const End = v.strictObject({ component: Id, attribute: Id });

const Fit = v.strictObject({
  id: Id,
  /** What must be so, in plain words: "The post is as long as the hole is deep". */
  title: Text(80),
  one: End,
  other: End,
  /** Equal values, or the pairs listed. */
  rule: v.variant('type', [
    v.strictObject({ type: v.literal('same') }),
    v.strictObject({
      type: v.literal('pairs'),
      pairs: v.pipe(v.array(v.strictTuple([Value, v.array(Value)])), v.minLength(1)),
    }),
  ]),
  /** Whether a pack that breaks it is stopped, or asked about. */
  onBreak: v.picklist(['stop', 'ask']),
});

/** The schema of a catalogue file. */
export const CatalogueSchema = v.strictObject({
  format: v.literal(1),
  id: Id,
  title: Text(40),
  /** What this family is and is not. */
  note: Text(240),
  /** Procedures that use it. */
  procedures: v.array(Id),
  /** Steps at which the wall draws the socket's face: marking, reaming, insertion. */
  faceSteps: v.optional(v.array(Id), []),
  components: v.pipe(v.array(Component), v.minLength(1)),
  slots: v.array(Slot),
  fits: v.array(Fit),
});

/** A catalogue as written. */
export type Catalogue = v.InferOutput<typeof CatalogueSchema>;
export type Component = Catalogue['components'][number];
export type Slot = Catalogue['slots'][number];
export type Fit = Catalogue['fits'][number];
export type AttributeValue = v.InferOutput<typeof Value>;
