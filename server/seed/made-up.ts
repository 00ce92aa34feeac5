/** Glassware and readings of a stockroom that never was: as many as wanted, the same for the same seed. */
import { RandomStream } from '../metrology/random-stream.ts';
import type { TrialBody } from '../calibrations/contract.ts';
import type { VesselBody } from '../glassware/contract.ts';

interface Piece {
  letters: string;
  kind: VesselBody['kind'];
  basis: VesselBody['basis'];
  standard: string;
  edition: string;
  class: string;
  nominalMl: number;
  /** Spread of one setting, and how far pieces lie from their nominal volume. */
  settingMl: number;
  betweenPiecesMl: number;
  emptyG: number;
}

const PIECES: readonly Piece[] = [
  {
    ...{ letters: 'VF', kind: 'volumetric-flask', basis: 'contain', standard: 'ISO 1042', edition: '1998', class: 'A' },
    ...{ nominalMl: 100, settingMl: 0.015, betweenPiecesMl: 0.03, emptyG: 61 },
  },
  {
    ...{ letters: 'VL', kind: 'volumetric-flask', basis: 'contain', standard: 'ISO 1042', edition: '1998', class: 'A' },
    ...{ nominalMl: 250, settingMl: 0.02, betweenPiecesMl: 0.05, emptyG: 98 },
  },
  {
    ...{ letters: 'VS', kind: 'volumetric-flask', basis: 'contain', standard: 'ISO 1042', edition: '1998', class: 'B' },
    ...{ nominalMl: 50, settingMl: 0.012, betweenPiecesMl: 0.04, emptyG: 38 },
  },
  {
    ...{ letters: 'PI', kind: 'single-volume-pipette', basis: 'deliver', standard: 'ISO 648', edition: '2008' },
    ...{ class: 'A', nominalMl: 10, settingMl: 0.004, betweenPiecesMl: 0.008, emptyG: 32 },
  },
  {
    ...{ letters: 'PL', kind: 'single-volume-pipette', basis: 'deliver', standard: 'ISO 648', edition: '2008' },
    ...{ class: 'A', nominalMl: 25, settingMl: 0.006, betweenPiecesMl: 0.012, emptyG: 45 },
  },
];
const MAKERS = ['Invented Glass', 'Lower Meniscus Works', 'Ring & Mark (invented)'];
const SHELVES = 40;
/** Grams that a millilitre of water weighs in air near 21 °C; close enough for made-up readings. */
const APPARENT_G_PER_ML = 0.997;
const LARGEST_SEED = 2 ** 31;

export interface MadeUpVessel {
  body: VesselBody;
  /** A reading of its trial; water warmer in summer terms. */
  trial: (draw: RandomStream) => TrialBody;
  piece: string;
}

const streamOf = (seed: number, index: number): RandomStream =>
  new RandomStream(((seed + Math.imul(index + 1, 0x9e3779b1)) % LARGEST_SEED) | 0);

/** @param index counts from 0 */
export const madeUpVessel = (seed: number, index: number): MadeUpVessel => {
  const piece = PIECES[index % PIECES.length] as Piece;
  const own = streamOf(seed, index);
  const volumeMl = piece.nominalMl + piece.betweenPiecesMl * own.normal();
  const emptyG = piece.emptyG * (1 + 0.02 * own.normal());
  const nominalVolumeMl = String(piece.nominalMl);
  const number = String(index + 1).padStart(6, '0');
  return {
    piece: piece.letters,
    body: {
      tag: `${piece.letters}-${number}`,
      kind: piece.kind,
      nominalVolumeMl,
      basis: piece.basis,
      tolerance: { standard: piece.standard, edition: piece.edition, class: piece.class },
      material: 'borosilicate-3.3',
      referenceTemperatureC: '20',
      serial: `S${number}`,
      maker: MAKERS[index % MAKERS.length],
      location: `shelf ${(index % SHELVES) + 1}`,
    },
    trial: (draw) => {
      const setMl = volumeMl + piece.settingMl * draw.normal();
      return {
        pointMl: nominalVolumeMl,
        emptyG: (emptyG + 0.0003 * draw.normal()).toFixed(4),
        filledG: (emptyG + setMl * APPARENT_G_PER_ML).toFixed(4),
        waterTemperatureC: (20.5 + draw.uniform()).toFixed(1),
      };
    },
  };
};

/** Readings of one term of one vessel. */
export const readingsOf = (seed: number, index: number, term: number): RandomStream =>
  streamOf(seed ^ Math.imul(term + 1, 0x85ebca6b), index);
