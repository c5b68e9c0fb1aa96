/** A growing list of numbers without an object for each. */
export class NumberList {
  private values = new Float64Array(1024);
  private size = 0;

  push(value: number): void {
    if (this.size === this.values.length) {
      const longer = new Float64Array(2 * this.size);
      longer.set(this.values);
      this.values = longer;
    }
    this.values[this.size++] = value;
  }

  /** The number that was added last. */
  last(): number {
    return this.values[this.size - 1];
  }

  /** The numbers, valid until the next one is added. */
  view(): Float64Array {
    return this.values.subarray(0, this.size);
  }

  clear(): void {
    this.size = 0;
  }
}
