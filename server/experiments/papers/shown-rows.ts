/** The rows of a class with their trials, figures and the texts that stand for them on paper. Pure. */
import type { RowFigures } from '../../metrology/class/figures.ts';
import type { ClassData } from '../contract-class.ts';
import { figuresOf } from '../figures-of.ts';
import { decimalsOfReadings, figureTexts, type FigureTexts, type Trial, type WareRow } from './figure-texts.ts';

export interface ShownRow {
  ware: WareRow;
  figures: RowFigures;
  /** As simple volumes give them, a gram taken for a millilitre. */
  simple: RowFigures;
  texts: FigureTexts;
  /** Digits of the readings, as volume. */
  readingDecimals: number;
  counted: Trial[];
  excluded: Trial[];
}

export const shownRows = (data: ClassData): ShownRow[] => {
  const simple = figuresOf(data, 'simple');
  return figuresOf(data, 'corrected').flatMap((figures, at): ShownRow[] => {
    const [ware, plain] = [data.rows[at], simple[at]];
    if (ware === undefined || plain === undefined) return [];
    const trials = data.trials.filter(({ row }) => row === ware.key);
    const readingDecimals = decimalsOfReadings(trials);
    return [
      {
        ...{ ware, figures, simple: plain, readingDecimals },
        texts: figureTexts(figures, readingDecimals),
        counted: trials.filter(({ excluded }) => excluded === null),
        excluded: trials.filter(({ excluded }) => excluded !== null),
      },
    ];
  });
};

export const nameOf = ({ label, nominalVolumeMl }: Pick<WareRow, 'label' | 'nominalVolumeMl'>): string =>
  `${label}, ${nominalVolumeMl} mL`;
