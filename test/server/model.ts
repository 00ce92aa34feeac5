/** What a calibration is, said as simply as possible: the server is compared with this. */
export type State = 'open' | 'measured' | 'abandoned';

interface ModelTrial {
  emptyG: string;
  filledG: string;
  correctedG: string[];
  excluded: boolean;
}

export interface ModelCalibration {
  id: string;
  state: State;
  planned: number;
  trials: ModelTrial[];
}

export type Step =
  | { do: 'begin'; planned: number }
  | { do: 'trial'; of: number; emptyG: string; filledG: string }
  | { do: 'correct'; of: number; trial: number; filledG: string }
  | { do: 'exclude' | 'include'; of: number; trial: number }
  | { do: 'measure'; of: number; reason: boolean }
  | { do: 'reopen' | 'abandon'; of: number }
  | { do: 'again'; request: number; changed: boolean }
  | { do: 'restart' };

export const counted = (calibration: ModelCalibration): number =>
  calibration.trials.filter((trial) => !trial.excluded).length;

export const usedG = (trial: ModelTrial): string => trial.correctedG.at(-1) ?? trial.filledG;

/** Status the server has to answer with; a step that is accepted is done to the calibration. */
export const perform = (calibration: ModelCalibration, step: Step): number => {
  if (step.do === 'reopen') return move(calibration, ['measured'], 'open');
  if (step.do === 'abandon') return move(calibration, ['open', 'measured'], 'abandoned');
  if (calibration.state !== 'open') return 409;
  switch (step.do) {
    case 'trial':
      calibration.trials.push({ emptyG: step.emptyG, filledG: step.filledG, correctedG: [], excluded: false });
      return 201;
    case 'measure':
      if (!step.reason && counted(calibration) < calibration.planned) return 422;
      return move(calibration, ['open'], 'measured');
    case 'correct':
    case 'exclude':
    case 'include':
      return onTrial(calibration.trials[step.trial], step);
    default:
      return 404;
  }
};

const move = (calibration: ModelCalibration, from: readonly State[], to: State): number => {
  if (!from.includes(calibration.state)) return 409;
  Object.assign(calibration, { state: to });
  return 201;
};

const onTrial = (
  trial: ModelTrial | undefined,
  step: Extract<Step, { do: 'correct' | 'exclude' | 'include' }>,
): number => {
  if (!trial) return 404;
  if (step.do === 'correct') {
    if (usedG(trial) === step.filledG) return 422;
    trial.correctedG.push(step.filledG);
    return 201;
  }
  const excluded = step.do === 'exclude';
  if (trial.excluded === excluded) return 409;
  Object.assign(trial, { excluded });
  return 201;
};
