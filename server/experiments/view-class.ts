/** What a class foresaw and weighed, as groups, the board and whoever teaches see it. */
import type { Reading } from '../db/logbook.ts';
import type { Board, ClassData, ClassGroup, ClassTrial, GroupList, GroupPage, Prediction } from './contract-class.ts';
import { groupsOf, type StoredGroup } from './store-groups.ts';
import { predictionsOf, trialCounts, trialsOf, type StoredClassTrial, type StoredPrediction } from './store-trials.ts';
import { findExperiment, type StoredExperiment } from './store.ts';
import { waresOf } from './view.ts';
import { rowOnWire, threeVolumes, type Ware } from './ware-facts.ts';

export const groupOnWire = ({ id, number, name, hidden, madeBy }: StoredGroup): ClassGroup => ({
  id,
  number,
  name,
  hidden,
  madeBy,
});

export const predictionOnWire = ({ rowKey, volumeMl, withinMl, sureness }: StoredPrediction): Prediction => ({
  row: rowKey,
  volumeMl,
  withinMl,
  sureness: sureness as Prediction['sureness'],
});

export const trialOnWire = (ware: Ware, trial: StoredClassTrial): ClassTrial => {
  const {
    waterTemperatureC: usedWaterTemperatureC,
    waterAssumed: _assumed,
    ...computed
  } = threeVolumes(ware, trial.used);
  return {
    row: trial.rowKey,
    number: trial.number,
    ...trial.used,
    usedWaterTemperatureC,
    vesselId: trial.vesselId,
    ...computed,
    entered: trial.entered,
    corrections: trial.corrections.map(({ recordedAt: _at, ...correction }) => correction),
    excluded: trial.exclusion,
    recordedAt: trial.recordedAt,
  };
};

type Wares = ReadonlyMap<string, Ware>;

/** Rows that the plan no longer has cannot hold trials: the routes see to it. */
const trialsOnWire = <T>(
  wares: Wares,
  trials: readonly StoredClassTrial[],
  shaped: (trial: ClassTrial, groupId: string) => T,
): T[] =>
  trials.flatMap((trial) => {
    const ware = wares.get(trial.rowKey);
    return ware ? [shaped(trialOnWire(ware, trial), trial.groupId)] : [];
  });

const taskOf = ({ plan, ...stored }: StoredExperiment, wares: Wares): GroupPage['experiment'] => ({
  id: stored.id,
  change: stored.change,
  state: stored.state,
  madeUp: stored.madeUp,
  title: plan.title,
  question: plan.question,
  endsAt: stored.endsAt,
  asks: plan.asks,
  conditions: plan.conditions,
  cautionNote: plan.cautionNote,
  balances: plan.balances.map(({ label, resolutionG }) => ({
    label,
    ...(resolutionG === undefined ? {} : { resolutionG }),
  })),
  rows: [...wares.values()].map(rowOnWire),
});

export const groupListOf = async (db: Reading, stored: StoredExperiment): Promise<GroupList> => {
  const groups = await groupsOf(db, stored.id);
  const counts = await trialCounts(
    db,
    groups.map(({ id }) => id),
  );
  return {
    experiment: taskOf(stored, await waresOf(db, stored)),
    items: groups.map((group) => ({ ...groupOnWire(group), trials: counts.get(group.id) ?? 0 })),
  };
};

export const groupPageOf = async (db: Reading, stored: StoredExperiment, group: StoredGroup): Promise<GroupPage> => {
  const wares = await waresOf(db, stored);
  return {
    group: groupOnWire(group),
    experiment: taskOf(stored, wares),
    predictions: (await predictionsOf(db, [group.id])).map(predictionOnWire),
    trials: trialsOnWire(wares, await trialsOf(db, [group.id]), (trial) => trial),
  };
};

const boardRows = (wares: Wares): Board['rows'] =>
  [...wares.values()].map((ware) => {
    const { key, label, kind, nominalVolumeMl, basis, toleranceMl, toleranceSource, trialsPerGroup, drops } =
      rowOnWire(ware);
    const shown = { key, label, kind, nominalVolumeMl, basis, toleranceMl, toleranceSource, trialsPerGroup };
    return { ...shown, drops: drops ?? null };
  });

const boardTrials = (wares: Wares, trials: readonly StoredClassTrial[], numbers: ReadonlyMap<string, number>) =>
  trialsOnWire(wares, trials, (trial, groupId): Board['trials'][number] => ({
    group: numbers.get(groupId) ?? 0,
    row: trial.row,
    number: trial.number,
    simpleVolumeMl: trial.simpleVolumeMl,
    densityVolumeMl: trial.densityVolumeMl,
    volumeMl: trial.volumeMl,
    excluded: trial.excluded !== null,
  }));

/** The board as it stands in the database; null where there is no such experiment. */
export const boardOf = async (db: Reading, experimentId: string): Promise<Board | null> => {
  const stored = await findExperiment(db, experimentId);
  if (!stored) return null;
  const shown = (await groupsOf(db, experimentId)).filter((group) => !group.hidden);
  const ids = shown.map((group) => group.id);
  const numbers = new Map(shown.map((group) => [group.id, group.number]));
  const wares = await waresOf(db, stored);
  const { id, change, state, madeUp, namesHidden, joiningOpen, endsAt, plan } = stored;
  return {
    ...{ id, change, state, madeUp, title: plan.title, question: plan.question, design: plan.design },
    ...{ namesHidden, joiningOpen, endsAt },
    rows: boardRows(wares),
    groups: shown.map(({ number, name }) => ({ number, name: namesHidden ? null : name })),
    predictions: stored.predictionsShown
      ? (await predictionsOf(db, ids)).map((one) => ({
          ...predictionOnWire(one),
          group: numbers.get(one.groupId) ?? 0,
        }))
      : null,
    trials: boardTrials(wares, await trialsOf(db, ids), numbers),
  };
};

/** Only one balance can be it: with several no correction is known. */
const isCorrected = (wares: Wares): boolean =>
  [...wares.values()].some(({ record }) => (record.instruments?.balance?.corrections ?? []).length > 0);

export const classDataOf = async (db: Reading, stored: StoredExperiment): Promise<ClassData> => {
  const groups = await groupsOf(db, stored.id);
  const ids = groups.map((group) => group.id);
  const numbers = new Map(groups.map((group) => [group.id, group.number]));
  const wares = await waresOf(db, stored);
  const { id, change, state, madeUp, template, plan, openedAt, closedAt } = stored;
  return {
    ...{ id, change, state, madeUp, template, title: plan.title, question: plan.question, design: plan.design },
    ...{ conditions: plan.conditions, openedAt, closedAt },
    balances: plan.balances.map(({ label }) => ({ label, corrects: isCorrected(wares) })),
    rows: [...wares.values()].map(rowOnWire),
    groups: groups.map(groupOnWire),
    predictions: (await predictionsOf(db, ids)).map((one) => ({
      ...predictionOnWire(one),
      groupId: one.groupId,
      group: numbers.get(one.groupId) ?? 0,
    })),
    trials: trialsOnWire(wares, await trialsOf(db, ids), (trial, groupId) => ({
      ...trial,
      groupId,
      group: numbers.get(groupId) ?? 0,
    })),
  };
};
