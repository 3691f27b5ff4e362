/**
 * What bar codes on packs say: GS1 element strings and HIBC codes, from a scanner, a
 * camera or a keyboard. Pure: the year comes from outside. Promises that nothing with
 * a wrong check digit or character passes, and that every refusal says what is wrong
 * and where. Imports domain only.
 */
export { fullYear } from './dates';
export { gs1DateToIso, mod10CheckDigit } from './gs1';
export { mod43CheckCharacter } from './hibc';
export { isPartial, joinLabels } from './join';
export { readScan } from './scan';
export type { ScanSettings } from './scan';
