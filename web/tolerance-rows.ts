import type { ToleranceRow } from '../server/metrology/tolerance.ts';
import type { ToleranceRowOnWire } from '../server/reference/contract.ts';
import type { VesselKind } from '../server/metrology/record.ts';

/** A standard without a longest time lets any longer one do. */
const timesOf = ({ min, max }: NonNullable<ToleranceRowOnWire['deliveryTimeS']>): { min: number; max?: number } =>
  max === null ? { min } : { min, max };

/** Table rows as the computation takes them, from the shape they have on the wire. */
export const toleranceRowsOf = (items: readonly ToleranceRowOnWire[]): ToleranceRow[] =>
  items.map((item) => ({
    standard: item.standard,
    edition: item.edition,
    kind: item.kind as VesselKind,
    class: item.class,
    basis: item.basis,
    nominalMl: item.nominalVolumeMl,
    divisionMl: item.divisionMl,
    toleranceMl: item.toleranceMl,
    tolerancePercent: item.tolerancePercent,
    ...(item.neckDiameterMaxMm === null ? {} : { neckDiameterMaxMm: item.neckDiameterMaxMm }),
    ...(item.waitingTimeS === null ? {} : { waitTimeS: item.waitingTimeS }),
    ...(item.deliveryTimeS === null ? {} : { deliveryTimeS: timesOf(item.deliveryTimeS) }),
    ...(item.randomMl === null ? {} : { randomMl: item.randomMl }),
    verification: item.verification as ToleranceRow['verification'],
    readInStandard: item.readInStandard,
    sources: [],
  }));
