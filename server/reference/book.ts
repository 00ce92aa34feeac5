/** The reference book as it goes out: all of it comes from the computation itself. */
import { FINDINGS } from '../metrology/findings.ts';
import { MATERIAL_FACTS } from '../metrology/materials.ts';
import { MATERIALS } from '../metrology/record.ts';
import { SOURCES, type Work } from '../metrology/sources.ts';
import {
  toleranceRows,
  toleranceSources,
  toleranceStandards,
  toleranceTableVersion,
} from '../metrology/tolerance-table.ts';
import type { ToleranceRow } from '../metrology/tolerance.ts';
import { PROBLEMS } from '../problem-codes.ts';
import type { ReferenceBook, ToleranceRowOnWire, ToleranceTable } from './contract.ts';
import { FORMULAS } from './formulas.ts';
import { ASSUMPTIONS } from './uncertainty.ts';

const sources = Object.entries<Work>(SOURCES).map(([key, work]) => ({
  key,
  authors: work.authors,
  title: work.title,
  year: work.year,
  place: work.place,
  doi: work.doi ?? null,
}));

const materials = MATERIALS.map((material) => {
  const { expansion, relativeHalfWidth, plastic } = MATERIAL_FACTS[material];
  return {
    material,
    expansionPerK: expansion?.value ?? null,
    relativeHalfWidth,
    plastic,
    source: expansion?.source ?? null,
    locator: expansion?.locator ?? null,
  };
});

export const REFERENCE_BOOK: ReferenceBook = {
  formulas: [...FORMULAS],
  sources,
  materials,
  assumptions: ASSUMPTIONS,
  findings: Object.entries(FINDINGS).map(([code, meaning]) => ({ code, meaning })),
};

const rowOnWire = (row: ToleranceRow): ToleranceRowOnWire => ({
  standard: row.standard,
  edition: row.edition,
  kind: row.kind,
  class: row.class,
  nominalVolumeMl: row.nominalMl,
  divisionMl: row.divisionMl,
  toleranceMl: row.toleranceMl,
  tolerancePercent: row.tolerancePercent,
  basis: row.basis,
  verification: row.verification,
  readInStandard: row.readInStandard,
  waitingTimeS: row.waitTimeS ?? null,
  neckDiameterMaxMm: row.neckDiameterMaxMm ?? null,
  deliveryTimeS: row.deliveryTimeS ? { min: row.deliveryTimeS.min, max: row.deliveryTimeS.max ?? null } : null,
  randomMl: row.randomMl ?? null,
  sources: [...row.sources],
  note: row.note ?? null,
});

const rowsOnWire = toleranceRows.map(rowOnWire);

/** The whole table, or the rows of one kind of vessel with the standards and sources they name. */
export const toleranceTableOf = (kind: string | undefined): ToleranceTable => {
  const items = kind === undefined ? rowsOnWire : rowsOnWire.filter((row) => row.kind === kind);
  const named = new Set(items.flatMap((row) => row.sources));
  return {
    version: toleranceTableVersion,
    items,
    standards: toleranceStandards.filter(({ id }) => items.some((row) => row.standard === id)),
    sources: Object.entries(toleranceSources).flatMap(([key, source]) =>
      named.has(key) ? [{ key, title: source.title, kind: source.kind, seen: source.seen }] : [],
    ),
  };
};

export const PROBLEM_LIST = Object.entries(PROBLEMS).map(([code, { status, title, meaning }]) => ({
  code,
  status,
  title,
  meaning,
}));
