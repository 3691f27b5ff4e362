/** The recordings of one voice, as a listener learns from them. */

/** One recording of one text: 16-bit samples at 16 kHz, mono. */
export interface CardTake {
  readonly text: string;
  readonly pcm: Int16Array;
}

/** What a listener needs of a voice card; the voice is its label. */
export interface CardVoice {
  readonly label: string;
  readonly takes: readonly CardTake[];
}
