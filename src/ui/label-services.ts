/** What the screens ask about labels: scans, numbers to learn, the scanner's settings, the camera, the list as a file. */
import type { Fault } from '../domain';

/** What the scanner was set to send around each code. */
export interface WedgeText {
  readonly prefix: string;
  readonly suffix: string;
  readonly separator: string;
}

export interface LabelServices {
  /** Takes a label that was typed. `isAnother` where a second pack of the same lot is meant. */
  take(text: string, isAnother: boolean): Promise<Fault | null>;
  /** Learns a number for this case and for every later one. */
  learn(product: string, article: string): Promise<Fault | null>;
  wedge(): WedgeText;
  /** Counts at once; the fault says that it could not be kept. */
  setWedge(wedge: WedgeText): Promise<Fault | null>;
  /** Shows the camera and takes the labels that it reads; returns the function that ends it. */
  watchCamera(
    video: HTMLVideoElement,
    told: {
      readonly onFault: (fault: Fault) => void;
      /** Who reads: the platform's own reader, or the one that the program brings along. */
      readonly onReader: (reader: 'platform' | 'zxing') => void;
    },
  ): () => void;
  saveList(kind: 'csv' | 'json'): Promise<Fault | null>;
}
