/**
 * The JSON Schema (draft 2020-12) of procedure files, from the one schema that checks them. What a
 * JSON Schema can't say (meaning across the file) is for `npm run check-procedure`.
 */
import { toJsonSchema } from '@valibot/to-json-schema';
import { FORMAT_PARTS, ProcedureSchema } from '../procedure';

/** The part of JSON Schema that the format uses. */
export interface JsonSchema {
  readonly $ref?: string;
  readonly $defs?: Readonly<Record<string, JsonSchema>>;
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly default?: unknown;
  readonly const?: unknown;
  readonly enum?: readonly unknown[];
  readonly properties?: Readonly<Record<string, JsonSchema>>;
  readonly required?: readonly string[];
  readonly items?: JsonSchema;
  readonly anyOf?: readonly JsonSchema[];
  readonly oneOf?: readonly JsonSchema[];
  readonly allOf?: readonly JsonSchema[];
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
  readonly minimum?: number;
  readonly maximum?: number;
}

/** Names that every JavaScript object has; an id can't be one of those that are lower-case words. */
const TAKEN_IDS = ['constructor'];

/** Makes the schema. */
export function makeProcedureSchema(): JsonSchema {
  const made = toJsonSchema(ProcedureSchema, {
    target: 'draft-2020-12',
    typeMode: 'input',
    errorMode: 'ignore',
    definitions: FORMAT_PARTS,
    overrideAction: ({ valibotAction, jsonSchema }) => {
      // Blank texts are trimmed away, then too short; object words can't be ids.
      if (valibotAction.type === 'trim') return { ...jsonSchema, pattern: '\\S' };
      if (valibotAction.type === 'check') return { ...jsonSchema, not: { enum: TAKEN_IDS } };
      return undefined;
    },
  });
  return { title: 'Procedure', ...made } as JsonSchema;
}
