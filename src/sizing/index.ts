/**
 * What follows from sizes and angles: wedges, directions, what a turn costs.
 * Pure: no clock, no screen. Nothing here is advice; figures follow from what was
 * typed in. Imports domain only.
 */
export { articleOfNumber, findArticle, listArticles } from './catalogue/articles';
export type { Article } from './catalogue/articles';
export { expectSizes, findBreaks, listBreaks } from './catalogue/chains';
export type { Chosen } from './catalogue/chains';
export { checkCatalogue } from './catalogue/check';
export type { Catalogue } from './catalogue/format';
export { catalogueFor, loadCatalogue } from './catalogue/load';
export { listShortages } from './catalogue/stock';
export { compareWedges } from './choices';
export type { WedgeChoice } from './choices';
export {
  clockToDirection,
  directionToClock,
  nearestMark,
  toWholeMinute,
  turnBetween,
} from './direction';
export { decideImplantOrder } from './implants/decide';
export { addToImplantLog, emptyImplantLog } from './implants/log';
export type { ImplantLog, Pack } from './implants/log';
export { isReconciled, reconcile } from './implants/reconcile';
export { packTitle } from './implants/scan';
export { INCLINATION_MEASURE_TEXT } from './measures';
export { angleBetween, checkOrientation } from './orientation';
export type { Orientation } from './orientation';
export { workOutPlaced, workOutPlan } from './plan';
export type { Placed, PlanFigures } from './plan';
export { boneRemoved, thicknessDifference } from './plate';
export { plateWidthMm, socketPlateOf } from './socket-plate';
export type { SocketPlate } from './socket-plate';
export { turnAllowed, turningError, turningTable } from './turning';
export type { TurningError } from './turning';
export { placeWedge, wedgeBetween } from './wedge';
export type { Wedge } from './wedge';
