export const STOCK_UNITS = ['mol/L', 'g/L', 'mg/L'] as const;
export type StockUnit = (typeof STOCK_UNITS)[number];

/** The stock of a planned series, as a dilution takes it over. */
export interface PlannedStock {
  from: 'certificate';
  name: string;
  value: string;
  unit: StockUnit;
  expandedUncertainty: string;
  coverageFactor: '2';
}
