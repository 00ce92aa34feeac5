import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import type { ClassTrial, GroupPage } from '../../../server/experiments/contract-class.ts';
import type { WareRowOnWire } from '../../../server/experiments/contract.ts';
import { post } from '../../api.ts';
import { enterText as words } from '../../messages/en-teaching.ts';
import { Button } from '../../parts/button.tsx';
import { Quantity } from '../../parts/quantity.tsx';
import { decimalsOf, fixed } from '../../parts/rounding.ts';
import { TrialStory } from '../class/trial-story.tsx';
import { classKeys } from './data.ts';

/** Digits of a volume as its readings have them, here as at the phone of the group. */
export const digitsOf = ({ filledG }: Pick<ClassTrial, 'filledG'>): number => Math.max(1, decimalsOf(filledG));

interface TrialTableProps {
  id: string;
  page: GroupPage;
  row: WareRowOnWire;
}

/** What was entered for a group at one ware; a slip is corrected here, also for a group without a phone. */
export function TrialTable({ id, page, row }: TrialTableProps) {
  const [open, setOpen] = useState<number | null>(null);
  const client = useQueryClient();
  const trials = page.trials.filter((trial) => trial.row === row.key);
  if (trials.length === 0) return <p className="quiet">{words.none}</p>;
  const act = async (path: string, body: object | undefined, key: string) => {
    await post(`/api/experiments/${id}/groups/${page.group.id}/trials/${path}`, body, key);
    await client.invalidateQueries({ queryKey: classKeys.one(id) });
  };
  const opened = trials.find(({ number }) => number === open);
  return (
    <div className="stack">
      <div className="table-box" tabIndex={0} role="region" aria-label={words.trials}>
        <table className="table">
          <caption className="unseen">{words.trials}</caption>
          <thead>
            <tr>
              {headsOf(row).map((head) => (
                <th key={head} scope="col">
                  {head}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {trials.map((trial) => (
              <TrialRow
                key={trial.number}
                {...{ trial, row, isOpen: trial.number === open }}
                onOpen={() => setOpen(trial.number === open ? null : trial.number)}
              />
            ))}
          </tbody>
        </table>
      </div>
      {opened && <TrialStory key={opened.number} act={act} step={{ row }} trial={opened} />}
    </div>
  );
}

const headsOf = ({ vessels }: WareRowOnWire): string[] => [
  words.number,
  ...(vessels.length > 0 ? [words.vessel] : []),
  words.empty,
  words.filled,
  words.simple,
  words.density,
  words.corrected,
  words.change,
];

interface TrialRowProps {
  trial: ClassTrial;
  row: WareRowOnWire;
  isOpen: boolean;
  onOpen: () => void;
}

function TrialRow({ trial, row: { vessels }, isOpen, onOpen }: TrialRowProps) {
  const { number, excluded, emptyG, filledG, vesselId } = trial;
  return (
    <tr data-out={excluded ? '' : undefined}>
      <th scope="row">
        {number} {excluded && <span className="quiet small">{words.excluded}</span>}
      </th>
      {vessels.length > 0 && <td>{vessels.find(({ id }) => id === vesselId)?.tag}</td>}
      <td className="number">{emptyG}</td>
      <td className="number">{filledG}</td>
      {[trial.simpleVolumeMl, trial.densityVolumeMl, trial.volumeMl].map((volumeMl, index) => (
        <td key={index} className="number">
          <Quantity value={fixed(volumeMl, digitsOf(trial))} />
        </td>
      ))}
      <td>
        <Button look="quiet" aria-expanded={isOpen} aria-label={words.changeTrial(number)} onClick={onOpen}>
          {words.change}
        </Button>
      </td>
    </tr>
  );
}
