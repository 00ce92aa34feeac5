import { useEffect, useRef, useState } from 'react';
import { benchText } from '../../messages/en-bench.ts';
import type { OutboxEntry } from '../../outbox.ts';

const words = benchText.announce;

const sentence = (entry: OutboxEntry): string => {
  if (entry.state === 'saved') return words.saved(entry.savedNumber ?? 0);
  if (entry.state === 'waiting') return words.waiting;
  if (entry.state === 'failed') return words.failed(entry.problem?.detail ?? '');
  return words.sending;
};

/** Says aloud what became of a trial; on the screen its row says the same. */
export function Announcer({ pending }: { pending: readonly OutboxEntry[] }) {
  const before = useRef(new Map<string, string>());
  const [said, setSaid] = useState('');
  useEffect(() => {
    const changed = pending.findLast((entry) => before.current.get(entry.id) !== entry.state);
    before.current = new Map(pending.map((entry) => [entry.id, entry.state]));
    // Sending takes a blink; only what it ends in is worth an interruption.
    if (changed && changed.state !== 'sending') setSaid(sentence(changed));
  }, [pending]);
  return (
    <p className="unseen" role="status">
      {said}
    </p>
  );
}
