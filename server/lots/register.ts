/** A delivery comes into the register: the lot, and each vessel as if it came alone, with their entries in the journal. */
import type { Writing } from '../db/write.ts';
import { enterVessel } from '../glassware/register.ts';
import { newVessel } from '../glassware/store.ts';
import { withoutGaps } from '../journal/values.ts';
import { newId } from '../requests.ts';
import type { LotBody, PreviewRow } from './contract.ts';
import { vesselBodyOf } from './previewing.ts';
import { insertLot, type StoredLot } from './store.ts';

/** All revisions tell the same fields, so that each entry can be held against its row. */
export const told = (lot: StoredLot) => {
  const { name, receivedOn, supplier, maker, facts, note, reason } = lot;
  return { name, receivedOn, supplier, maker, facts: withoutGaps(facts), note, reason };
};

/** The whole delivery in one write: the lot, and each vessel as if it were registered alone. */
export const registerLot = async (
  writing: Writing,
  body: LotBody,
  rows: readonly PreviewRow[],
): Promise<{ id: string; version: number; vessels: { id: string; tag: string }[] }> => {
  const { trx, at, actor, journal } = writing;
  const { kind, nominalVolumeMl, basis, tolerance, material } = body.ware;
  const lot: StoredLot = {
    id: newId(),
    version: 1,
    name: body.name,
    receivedOn: body.receivedOn,
    supplier: body.supplier || null,
    maker: body.maker || null,
    facts: {
      kind,
      nominalVolumeMl,
      basis,
      tolerance: tolerance ? (withoutGaps(tolerance) as Record<string, string>) : null,
      material,
      count: rows.length,
    },
    note: body.note || null,
    reason: null,
    recordedAt: at,
    recordedBy: actor,
  };
  await insertLot(trx, lot);
  journal({ act: 'lot-registered', object: `lot/${lot.id}`, before: null, after: told(lot) });
  const vessels = [];
  for (const row of rows) {
    const registered = vesselBodyOf(body, row);
    const vessel = { ...newVessel(registered, { id: newId(), at, actor }), lotId: lot.id };
    await enterVessel(writing, vessel, registered);
    vessels.push({ id: vessel.id, tag: vessel.tag });
  }
  return { id: lot.id, version: 1, vessels };
};
