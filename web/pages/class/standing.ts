/** What the server says of a device of a class, whoever it is by now: asked of an address that refuses nobody. */
import { getNow } from '../../api.ts';
import { timeLimit } from './time-limit.ts';

export interface Session {
  kind: 'group' | 'assistant' | 'board' | null;
  experimentId: string | null;
  groupId: string | null;
}

export const presentSession = (): Promise<Session> => getNow<Session>('/api/class/session', timeLimit());

/** How a device that was refused stands to its class: not of it at present, of it again, or the class was erased. */
type Standing = 'out' | 'in' | 'erased';

/** @throws ProblemError, NetworkError */
export async function standingIn(experimentId: string, kind: Session['kind'], groupId?: string): Promise<Standing> {
  const address = `/api/class/session?experiment=${encodeURIComponent(experimentId)}`;
  const session = await getNow<Session & { isThere: boolean | null }>(address, timeLimit());
  if (session.isThere === false) return 'erased';
  const isMine = session.kind === kind && session.experimentId === experimentId;
  return isMine && (groupId === undefined || session.groupId === groupId) ? 'in' : 'out';
}
