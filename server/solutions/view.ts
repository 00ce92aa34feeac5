/** Stored solutions as the wire shows them. */
import type { Reading } from '../db/logbook.ts';
import { presentTags } from '../glassware/store.ts';
import { findInstrument } from '../instruments/store.ts';
import type { Preparation, PreparationListItem } from './contract-record.ts';
import { decisionsOf, endsOf, type PreparationEnd } from './store-decisions.ts';
import { instrumentsOfPreparation, vesselsOfPreparation, type StoredPreparation } from './store.ts';

export const listItemOf = (
  stored: StoredPreparation,
  end: PreparationEnd | undefined,
  today: string,
): PreparationListItem => {
  const { id, number, title, madeOn, expiresOn, result, recordedAt, recordedBy } = stored;
  const { way, value, unit, expandedUncertainty, coverageFactor, significantDigits, quotedAtC, approximate } = result;
  return {
    ...{ id, number, way, title, madeOn, expiresOn, expired: expiresOn !== null && expiresOn < today },
    ...{ value, unit, expandedUncertainty, coverageFactor, significantDigits, quotedAtC, approximate },
    end: end ?? null,
    recordedAt,
    recordedBy,
  };
};

export const listItemsOf = async (
  db: Reading,
  stored: readonly StoredPreparation[],
  today: string,
): Promise<PreparationListItem[]> => {
  const ends = await endsOf(
    db,
    stored.map(({ id }) => id),
  );
  return stored.map((one) => listItemOf(one, ends.get(one.id), today));
};

export const preparationOnWire = async (
  db: Reading,
  stored: StoredPreparation,
  today: string,
): Promise<Preparation> => {
  const { id, hazardLine, water, lots, note, accuracyPercent, inputs, result, versions } = stored;
  const inStock = (await vesselsOfPreparation(db, id)).filter(({ use }) => use === 'in-stock');
  const tags = await presentTags(
    db,
    inStock.map(({ vesselId }) => vesselId),
  );
  const instruments = [];
  for (const { instrumentId, version, use } of await instrumentsOfPreparation(db, id)) {
    const tag = (await findInstrument(db, instrumentId))?.facts.tag ?? instrumentId;
    instruments.push({ instrumentId, tag, version, use });
  }
  return {
    ...listItemOf(stored, (await endsOf(db, [id])).get(id), today),
    ...{ hazardLine, water, lots, note, accuracyPercent, result, versions, instruments },
    solution: { ...inputs },
    vesselsInStock: inStock.map(({ vesselId, calibrationId }) => ({
      vesselId,
      tag: tags.get(vesselId) ?? vesselId,
      calibrationId,
    })),
    decisions: (await decisionsOf(db, [id])).get(id) ?? [],
  };
};
