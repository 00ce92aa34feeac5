/** The one way to write about an experiment: it counts the change, and the journal learns kind, id and counts alone. */
import type { FastifyRequest } from 'fastify';
import type { Logbook, Reading } from '../db/logbook.ts';
import type { Answer, WriteRequest, Writing } from '../db/write.ts';
import { notFound, Problem } from '../problem.ts';
import { creating, editing } from '../requests.ts';
import type { Boards } from './boards.ts';
import type { ExperimentState } from './contract.ts';
import { countChange, countsOfOne, findExperiment, type StoredExperiment } from './store.ts';

/** Keys of one experiment begin alike, so that erasing it takes the answers kept for them along. */
export const keyPrefix = (experimentId: string): string => `class ${experimentId} `;

/**
 * A write that creates within an experiment; its key is that of the caller alone, since many phones make keys.
 * @throws Problem `idempotency-key-missing`
 */
export const creatingInClass = (request: FastifyRequest, experimentId: string): WriteRequest => {
  const asked = creating(request);
  const caller = request.classSession?.groupId ?? 'staff';
  return { ...asked, key: { ...asked.key, value: `${keyPrefix(experimentId)}${caller} ${asked.key.value}` } };
};

export interface ClassServices {
  logbook: Logbook;
  boards: Boards;
}

/** A body of a keyed act is kept to answer the same request again: it names what was written and holds nothing of it. */
interface ClassAct<T> {
  /** Names the act in the journal. */
  act: string;
  request: FastifyRequest;
  experimentId: string;
  /** Sent again, it is answered again from what was kept. */
  keyed: boolean;
  /** In which states it may be done; anything else is refused. */
  states: readonly ExperimentState[];
  work: (writing: Writing, stored: StoredExperiment) => Promise<Answer<T>>;
  /** What else the journal learns; never a reading, never a name. */
  told?: (answer: T) => Record<string, string | number>;
}

const WHY: Record<ExperimentState, string> = {
  planned: 'This experiment has not been opened yet.',
  open: 'This experiment is open. Close it first.',
  closed: 'This experiment is closed: what was measured stays as it is.',
};

/** @throws Problem `state-conflict` */
const requireState = ({ state }: StoredExperiment, states: readonly ExperimentState[]): void => {
  if (!states.includes(state)) throw new Problem('state-conflict', { detail: WHY[state] });
};

/**
 * An answer with what was written, read anew: nothing a class typed is kept a second time where erasing would have to
 * look for it.
 */
export const shown = async <T, V>(
  { logbook }: ClassServices,
  answer: Answer<T>,
  view: (db: Reading, kept: T) => Promise<V>,
): Promise<Answer<V>> => ({
  status: answer.status,
  body: await logbook.read((db) => view(db, answer.body)),
});

/** @throws Problem `not-found`, `state-conflict`, and what the work throws */
export const classWrite = async <T>({ logbook, boards }: ClassServices, act: ClassAct<T>): Promise<Answer<T>> => {
  const { request, experimentId } = act;
  const asked = act.keyed ? creatingInClass(request, experimentId) : editing(request);
  const answer = await logbook.write(asked, async (writing) => {
    const { trx, journal } = writing;
    const stored = await findExperiment(trx, experimentId);
    if (!stored) throw notFound('experiment');
    requireState(stored, act.states);
    const done = await act.work(writing, stored);
    await countChange(trx, experimentId);
    const counts = await countsOfOne(trx, experimentId);
    const after = { ...counts, ...act.told?.(done.body) };
    journal({ act: act.act, object: `experiment/${experimentId}`, before: null, after });
    return done;
  });
  boards.changed(experimentId);
  return answer;
};
