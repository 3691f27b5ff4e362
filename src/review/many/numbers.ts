/**
 * Numbers of one kind, one behind the other, that grow: what a table of many cases is
 * made of. Ten thousand cases then lie in a few arrays that are read from the disk,
 * handed over and walked through as they are, where as many objects would each be made.
 */
const KINDS = { f64: Float64Array, u32: Uint32Array, u8: Uint8Array } as const;

export type NumberKind = keyof typeof KINDS;
type Values = Float64Array | Uint32Array | Uint8Array;

const FIRST_ROOM = 256;

export class Numbers {
  #values: Values;
  #length: number;

  /** Empty, or with values that are there already. */
  constructor(
    readonly kind: NumberKind,
    values: Values = new KINDS[kind](0),
  ) {
    this.#values = values;
    this.#length = values.length;
  }

  /** Over bytes that hold so many values, without copying them. `offset` is a multiple of eight. */
  static over(kind: NumberKind, buffer: ArrayBuffer, offset: number, length: number): Numbers {
    return new Numbers(kind, new KINDS[kind](buffer, offset, length));
  }

  get length(): number {
    return this.#length;
  }

  /** The value at a place; the caller knows that there is one. */
  at(place: number): number {
    return this.#values[place] as number;
  }

  push(value: number): void {
    if (this.#length === this.#values.length) {
      const wider = new KINDS[this.kind](Math.max(FIRST_ROOM, this.#length * 2));
      wider.set(this.#values);
      this.#values = wider;
    }
    this.#values[this.#length] = value;
    this.#length += 1;
  }

  /** What is there, for walking through many of them. */
  get values(): Values {
    return this.#values.subarray(0, this.#length);
  }

  /** The bytes of what is there, not of the room beyond it. */
  get bytes(): Uint8Array {
    const { buffer, byteOffset, BYTES_PER_ELEMENT } = this.#values;
    return new Uint8Array(buffer, byteOffset, this.#length * BYTES_PER_ELEMENT);
  }
}
