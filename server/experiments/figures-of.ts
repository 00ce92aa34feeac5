/** The figures of a class from what it weighed. Pure. */
import { classFigures, type RowFigures } from '../metrology/class/figures.ts';
import { weighedRows, type VolumeChoice, type Weighed } from '../metrology/class/weighed.ts';
import { toleranceRows } from '../metrology/tolerance-table.ts';

/** Excluded trials are left out; limits are those of the tables of this program. */
export const figuresOf = (weighed: Weighed, choice: VolumeChoice): RowFigures[] =>
  classFigures({ rows: weighedRows(weighed, choice, toleranceRows) });
