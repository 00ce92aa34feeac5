import type { Basis, VesselFacts, VesselKind } from './record.ts';

/** One row of a standard's table. A null nominal volume or division fits any. */
export interface ToleranceRow {
  standard: string;
  edition: string;
  kind: VesselKind;
  /** `-` where the standard has no classes. */
  class: string;
  basis: Basis | 'either';
  nominalMl: number | null;
  divisionMl: number | null;
  toleranceMl: number | null;
  tolerancePercent: number | null;
  /** Largest inner diameter where the meniscus stands: neck of a flask, bore of a pipette. */
  neckDiameterMaxMm?: number;
  waitTimeS?: number;
  deliveryTimeS?: { min: number; max?: number };
  /** Random limit of piston pipettes. */
  randomMl?: number;
  randomPercent?: number;
  verification: 'two sources agree' | 'one source' | 'from memory' | 'common practice, no source';
  readInStandard: boolean;
  /** Keys of the table's own list of sources. */
  sources: readonly string[];
  note?: string;
}

/** Class of standards that have none. */
export const NO_CLASS = '-';

export type MarkedVessel = Pick<VesselFacts, 'kind' | 'nominalVolumeMl' | 'basis' | 'divisionMl' | 'tolerance'>;
