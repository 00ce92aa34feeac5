/** Where a calibration can go from where it stands. */
import { Problem } from '../problem.ts';
import type { CalibrationState } from './contract.ts';

const NAMES: Record<CalibrationState, string> = {
  open: 'open',
  measured: 'finished measuring',
  checked: 'checked',
  issued: 'issued',
  abandoned: 'abandoned',
};

/** @throws Problem `state-conflict`, which names the state the calibration is in */
export const requireState = (state: CalibrationState, allowed: readonly CalibrationState[], what: string): void => {
  if (!allowed.includes(state))
    throw new Problem('state-conflict', { detail: `This calibration is ${NAMES[state]}; ${what}.` });
};

export const requireOpen = (state: CalibrationState): void => {
  requireState(state, ['open'], 'trials, corrections and exclusions belong to an open one');
};
