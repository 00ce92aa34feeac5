import { useState } from 'react';
import { isRefusal, newKey, post } from '../api.ts';
import { refereeText as words } from '../messages/en-uncertainty.ts';
import type { RefereeOnWire } from './referee-words.ts';
import { refereeDecimals } from './referee-words.ts';
import { Button } from './button.tsx';
import { fixed, signed, significant } from './rounding.ts';

interface RefereeProps {
  calibrationId: string;
  pointMl: string;
}

/** Draws the whole model thousands of times and compares; nothing is stored. */
export default function Referee({ calibrationId, pointMl }: RefereeProps) {
  const [reply, setReply] = useState<RefereeOnWire | null>(null);
  const [busy, setBusy] = useState(false);
  const [problem, setProblem] = useState('');
  const run = async () => {
    setBusy(true);
    setProblem('');
    try {
      setReply(await post<RefereeOnWire>(`/api/calibrations/${calibrationId}/referee`, { pointMl }, newKey()));
    } catch (error) {
      if (!isRefusal(error)) throw error;
      setProblem(error.message);
    } finally {
      setBusy(false);
    }
  };
  return (
    <section className="referee stack tight" aria-label={words.title}>
      <p className="quiet measure">{words.what}</p>
      <div role="status" className="stack tight">
        {busy && <p>{words.running}</p>}
        {problem !== '' && <p>{problem}</p>}
        {reply && !busy && <Said reply={reply} />}
      </div>
      {reply?.drawn !== null && (
        <div className="row no-print">
          <Button disabled={busy} onClick={() => void run()}>
            {reply === null ? words.run : words.again}
          </Button>
        </div>
      )}
    </section>
  );
}

/** The word, then the amounts: both intervals, how far their ends are apart, draws and seed. */
function Said({ reply }: { reply: RefereeOnWire }) {
  const { outcome, drawn, gum, student, toleranceMl, lowDifferenceMl, highDifferenceMl } = reply;
  if (!drawn) return <p>{words.tooFew}</p>;
  const decimals = refereeDecimals(toleranceMl);
  const rows = [
    { name: words.budget, ...gum },
    { name: words.drawn, ...drawn },
    ...(student ? [{ name: words.student, ...student }] : []),
  ];
  return (
    <>
      <p>
        <strong>{words.outcomes[outcome]}</strong>{' '}
        {words.apart(
          signed(lowDifferenceMl ?? 0, decimals),
          signed(highDifferenceMl ?? 0, decimals),
          significant(toleranceMl, 1),
        )}
      </p>
      <div className="table-box" role="region" aria-label={words.intervals} tabIndex={0}>
        <table className="table referee-table">
          <caption className="unseen">{words.intervals}</caption>
          <thead>
            <tr>
              <th scope="col">{words.way}</th>
              <th scope="col" className="number">
                {words.low}
              </th>
              <th scope="col" className="number">
                {words.high}
              </th>
              <th scope="col" className="number">
                {words.standard}
              </th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ name, low, high, standardUncertainty }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                <td className="number">{fixed(low, decimals)}</td>
                <td className="number">{fixed(high, decimals)}</td>
                <td className="number">{significant(standardUncertainty, 2)}</td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p className="quiet small">
        {words.seed(String(drawn.seed), new Intl.NumberFormat('en').format(drawn.draws))}
        {!drawn.stable && ` ${words.notStable}`}
      </p>
    </>
  );
}
