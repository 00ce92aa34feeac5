import { useQueryClient } from '@tanstack/react-query';
import { useState } from 'react';
import { useLocation } from 'wouter';
import { newKey, post } from '../../api.ts';
import { planText, runText as words } from '../../messages/en-teaching.ts';
import { ActDialog } from '../../parts/act-dialog.tsx';
import { Field } from '../../parts/field.tsx';
import { classKeys } from './data.ts';

const FEWEST = 2;
const MOST = 30;

/** Makes a class up, and goes to it. */
export function RehearseDialog({ id, onClose }: { id: string; onClose: () => void }) {
  const [groups, setGroups] = useState('8');
  const [key] = useState(newKey);
  const client = useQueryClient();
  const [, go] = useLocation();
  const path = `/api/experiments/${id}/rehearsal`;
  const count = /^\s*\d{1,2}\s*$/.test(groups) ? Number(groups) : 0;
  return (
    <ActDialog
      title={words.rehearseTitle}
      what={words.rehearseWhat}
      path={path}
      act={words.rehearseAct}
      needsReason={false}
      body={() =>
        count < FEWEST || count > MOST
          ? { problems: { groups: planText.wholeNumber(FEWEST, MOST) } }
          : { body: { groups: count } }
      }
      send={async (body) => {
        const made = await post<{ id: string }>(path, body, key);
        await client.invalidateQueries({ queryKey: classKeys.list });
        go(`/${made.id}`);
      }}
      onClose={onClose}
    >
      {(submission) => (
        <Field
          name="groups"
          label={planText.expectedGroups}
          inputMode="numeric"
          width="short"
          value={groups}
          problem={submission.problemAt('groups')}
          onChange={setGroups}
        />
      )}
    </ActDialog>
  );
}
