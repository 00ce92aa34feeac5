/** How the errors of one maker's ware, or of all ware of a kind and size, are spread. */
import { keptSummariesOf } from '../calibrations/kept-summaries.ts';
import type { Reading } from '../db/logbook.ts';
import type { StoredVessel } from '../glassware/store.ts';
import { numberOf, sameDecimal } from '../metrology/decimal.ts';
import { distributionOf } from '../metrology/over-time/distribution.ts';
import type { Verdict } from '../metrology/result.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';
import { findTolerance, NO_CLASS, rowName, rowOf, rowToleranceMl, sameStandardRows } from '../metrology/tolerance.ts';
import type { DistributionOnWire, DistributionQuery } from './contract.ts';
import { vesselsLike, type CalibratedVessel } from './store.ts';

/** More would only make the answer slow; the newest say what is delivered now. */
const MOST_VESSELS = 500;

type Limits = Pick<DistributionOnWire, 'standard'> & { classes: { class: string; toleranceMl: number }[] };

/** Classes of the standard that the first vessel with one names. */
function limitsOf(vessels: readonly StoredVessel[], nominalMl: number): Limits {
  for (const vessel of vessels) {
    const row = rowOf(findTolerance(toleranceRows, vessel));
    if (row === null) continue;
    const classes = sameStandardRows(toleranceRows, vessel, row, nominalMl).flatMap((one) => {
      const toleranceMl = rowToleranceMl(vessel, one, nominalMl);
      return toleranceMl === null ? [] : [{ class: one.class, toleranceMl }];
    });
    return { standard: rowName({ ...row, class: NO_CLASS }), classes };
  }
  return { standard: null, classes: [] };
}

const piecesOf = async (db: Reading, vessels: readonly CalibratedVessel[]): Promise<DistributionOnWire['pieces']> => {
  const ids = vessels.flatMap(({ calibrationId }) => (calibrationId === null ? [] : [calibrationId]));
  const summaries = await keptSummariesOf(db, ids);
  return vessels.flatMap(({ vessel, calibrationId }) => {
    const summary = calibrationId === null ? undefined : summaries.get(calibrationId);
    const point = summary?.points.find(({ pointMl }) => sameDecimal(pointMl, vessel.nominalVolumeMl));
    if (summary === undefined || point?.biasMl == null || point.expandedUncertaintyMl === null) return [];
    return [
      {
        vesselId: vessel.id,
        tag: vessel.tag,
        performedOn: summary.performedOn,
        biasMl: point.biasMl,
        expandedUncertaintyMl: point.expandedUncertaintyMl,
        verdict: point.verdict as Verdict | null,
      },
    ];
  });
};

/** @returns null for a lot without a vessel, which has neither kind nor size */
export const distributionOnWire = async (db: Reading, asked: DistributionQuery): Promise<DistributionOnWire | null> => {
  const size = asked.nominalVolumeMl === undefined ? undefined : numberOf(asked.nominalVolumeMl);
  const { items, total } = await vesselsLike(db, { ...asked, nominalVolumeMl: size }, MOST_VESSELS);
  const first = items[0]?.vessel;
  const kind = asked.kind ?? first?.kind;
  const nominalVolumeMl = asked.nominalVolumeMl ?? first?.nominalVolumeMl;
  if (kind === undefined || nominalVolumeMl === undefined) return null;
  const { standard, classes } = limitsOf(
    items.map(({ vessel }) => vessel),
    numberOf(nominalVolumeMl),
  );
  const pieces = (await piecesOf(db, items)).sort((one, other) => (one.tag < other.tag ? -1 : 1));
  return {
    kind,
    nominalVolumeMl,
    maker: asked.maker ?? null,
    lotId: asked.lotId ?? null,
    vessels: total,
    lookedAt: items.length,
    standard,
    pieces,
    summary: distributionOf(pieces, classes),
  };
};
