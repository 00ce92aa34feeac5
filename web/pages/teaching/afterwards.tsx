import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useLocation } from 'wouter';
import type { Experiment } from '../../../server/experiments/contract.ts';
import { newKey, post } from '../../api.ts';
import { runText as words } from '../../messages/en-teaching.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Button } from '../../parts/button.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Section } from '../../parts/page.tsx';
import { forgetDraft } from '../../parts/tab-draft.ts';
import { classKeys } from './data.ts';
import { enterPlace } from './enter-kept.ts';

/** Ending, keeping without names, erasing: each says what goes before it goes. */
export function Afterwards({ experiment }: { experiment: Experiment }) {
  const [asked, setAsked] = useState<'end' | 'names' | 'erase' | null>(null);
  const { id, state, madeUp, counts, closing, namesRemovedAt } = experiment;
  const close = () => setAsked(null);
  const isClosed = state === 'closed';
  return (
    <Section title={words.afterTitle}>
      {closing && (
        <dl className="facts">
          <dt>{words.hash}</dt>
          <dd>
            <code className="take-away-hash">{closing.hash}</code>{' '}
            <span className="quiet small">{closing.holds && words.hashHolds}</span>
          </dd>
        </dl>
      )}
      {closing && !closing.holds && !namesRemovedAt && <Notice tone="strong">{words.hashBroken}</Notice>}
      {namesRemovedAt && <p className="quiet">{words.namesRemoved}</p>}
      <div className="row no-print">
        {!isClosed && !madeUp && <Button onClick={() => setAsked('end')}>{words.end}</Button>}
        {isClosed && !namesRemovedAt && <Button onClick={() => setAsked('names')}>{words.removeNames}</Button>}
        {(isClosed || madeUp) && (
          <Button look="quiet" onClick={() => setAsked('erase')}>
            {words.erase}
          </Button>
        )}
      </div>
      {asked === 'end' && (
        <ActDialog
          title={words.endTitle}
          what={words.endWhat(counts.groups, counts.trials)}
          path={`/api/experiments/${id}/closing`}
          act={words.endAct}
          needsReason={false}
          onClose={close}
        />
      )}
      {asked === 'names' && (
        <ActDialog
          title={words.removeNamesTitle}
          what={words.removeNamesWhat}
          path={`/api/experiments/${id}/names-removal`}
          act={words.removeNames}
          needsReason={false}
          onClose={close}
        />
      )}
      {asked === 'erase' && <EraseDialog experiment={experiment} onClose={close} />}
    </Section>
  );
}

function EraseDialog({ experiment, onClose }: { experiment: Experiment; onClose: () => void }) {
  const { id, counts } = experiment;
  const [key] = useState(newKey);
  const client = useQueryClient();
  const [, go] = useLocation();
  const path = `/api/experiments/${id}/erasure`;
  return (
    <ActDialog
      title={words.eraseTitle}
      what={words.eraseWhat(counts.groups, counts.predictions, counts.trials)}
      path={path}
      act={words.eraseAct}
      needsReason={false}
      body={() => ({ body: { ...counts } })}
      send={async (body) => {
        await post(path, body, key);
        forgetDraft(enterPlace(id));
        client.removeQueries({ queryKey: classKeys.one(id) });
        go('/');
      }}
      onClose={onClose}
    />
  );
}
