/** The one thing this folder throws on purpose: an input for which a formula was never stated. */
export class OutsideValidity extends Error {
  readonly quantity: string;
  readonly value: number;
  /** Lowest and highest value the formula holds for, both inside. */
  readonly range: readonly [number, number];
  readonly unit: string;
  /** Key of `SOURCES`. */
  readonly source: string;

  constructor(facts: {
    quantity: string;
    value: number;
    range: readonly [number, number];
    unit: string;
    source: string;
  }) {
    super(
      `${facts.quantity} ${facts.value} ${facts.unit} lies outside ${facts.range[0]} to ${facts.range[1]} ${facts.unit}.`,
    );
    this.name = 'OutsideValidity';
    this.quantity = facts.quantity;
    this.value = facts.value;
    this.range = facts.range;
    this.unit = facts.unit;
    this.source = facts.source;
  }
}
