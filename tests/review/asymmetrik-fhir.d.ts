/** What is used of a validator that brings no types of its own. */
declare module '@asymmetrik/fhir-json-schema-validator' {
  export default class JsonSchemaValidator {
    /** What is wrong with a resource; null or empty where nothing is. */
    validate(resource: object, verbose: boolean): readonly object[] | null;
  }
}
