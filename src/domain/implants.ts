/**
 * Orders and facts about the planning sheet, the packs in the room and their labels.
 * They do not move the procedure's machine; the implant log is a fold over them.
 */
import type { ErrorCode, ErrorParams } from './errors';
import type { LabelData } from './label-data';

/** Which inclination was measured; two published definitions differ by about ten degrees. */
export const INCLINATION_MEASURES = ['whole-face', 'lower-face'] as const;
export type InclinationMeasure = (typeof INCLINATION_MEASURES)[number];

/** What was typed into the planning sheet. Angles in degrees; null where nobody typed one. */
export interface AnglePlan {
  readonly measure: InclinationMeasure;
  readonly nativeVersionDeg: number;
  readonly nativeInclinationDeg: number;
  readonly targetVersionDeg: number;
  readonly targetInclinationDeg: number;
  /** The pattern of wear, in the team's own words. */
  readonly wear: string;
  /** How large an error the team allows; there is no default. */
  readonly allowedErrorDeg: number | null;
}

/** What can happen to a pack, in the order in which it happens. */
export const PACK_EVENTS = ['opened', 'implanted', 'wasted', 'returned'] as const;
export type PackEvent = (typeof PACK_EVENTS)[number];

/** Something that was found when a label was compared with the case. */
export interface PackFinding {
  readonly code: ErrorCode;
  readonly params: ErrorParams;
  /** Stops: the pack is not opened without a reason. Asks: somebody should look. */
  readonly weight: 'stop' | 'ask';
}

export type ImplantOrder =
  | { readonly type: 'angles.plan'; readonly plan: AnglePlan }
  | { readonly type: 'stock.count'; readonly article: string; readonly count: number }
  /** `text` as it came from scanner, camera or keyboard; `isAnother` where a second pack of the same lot is meant. */
  | { readonly type: 'label.scan'; readonly text: string; readonly isAnother: boolean }
  | { readonly type: 'label.learn'; readonly product: string; readonly article: string }
  | {
      readonly type: 'pack.move';
      readonly pack: string;
      readonly event: PackEvent;
      /** Why: needed for waste, and for opening a pack that was stopped. */
      readonly reason: string;
    };

/** The types of these orders. */
export const IMPLANT_ORDERS = [
  'angles.plan',
  'stock.count',
  'label.scan',
  'label.learn',
  'pack.move',
] as const satisfies readonly ImplantOrder['type'][];

/** Whether an order is about packs, labels or the planning sheet. */
export function isImplantOrder(order: { readonly type: string }): order is ImplantOrder {
  return IMPLANT_ORDERS.some((type) => type === order.type);
}

export type ImplantFact =
  | { readonly type: 'angles.planned'; readonly data: { readonly plan: AnglePlan } }
  | {
      /** The catalogue as it was when it was first needed, so that the record can be replayed for ever. */
      readonly type: 'catalogue.adopted';
      readonly data: { readonly catalogue: unknown };
    }
  | {
      readonly type: 'stock.counted';
      readonly data: { readonly article: string; readonly count: number };
    }
  | {
      readonly type: 'label.scanned';
      readonly data: {
        /** Which pack: the same for two scans of one. */
        readonly pack: string;
        readonly label: LabelData;
        /** The article of the catalogue; null where the label's number is not known yet. */
        readonly article: string | null;
        /** Where in the case it goes; null where nothing asks for it. */
        readonly slot: string | null;
        readonly findings: readonly PackFinding[];
      };
    }
  | {
      readonly type: 'label.learned';
      readonly data: { readonly product: string; readonly article: string };
    }
  | {
      readonly type: 'pack.moved';
      readonly data: {
        readonly pack: string;
        readonly event: PackEvent;
        readonly slot: string | null;
        readonly reason: string;
      };
    }
  | {
      /** The wall's own: whether packs and confirmed sizes agree, each time that has changed. */
      readonly type: 'packs.compared';
      readonly data: { readonly agree: boolean };
    };
