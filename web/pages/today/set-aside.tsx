import { useState } from 'react';
import { backupsText } from '../../messages/en-backups.ts';
import { Button } from '../../parts/button.tsx';
import { ReopeningDialog } from '../../parts/reopening-dialog.tsx';
import { useLaboratory } from '../../queries.ts';
import { useMay } from '../../session.ts';

const words = backupsText.aside;

/** The way from invented data to a logbook of one's own. */
export function SetAside() {
  const laboratory = useLaboratory();
  const may = useMay();
  const [asked, setAsked] = useState(false);
  if (!laboratory.data?.demonstration || !may('keep')) return null;
  return (
    <section className="card stack today-aside">
      <h2>{words.title}</h2>
      <p className="measure">{words.what}</p>
      <div className="row">
        <Button onClick={() => setAsked(true)}>{words.act}</Button>
      </div>
      {asked && (
        <ReopeningDialog
          title={words.dialogTitle}
          what={words.dialogWhat}
          act={words.dialogAct}
          path="/api/logbook/aside"
          thenAt="/"
          onClose={() => setAsked(false)}
        />
      )}
    </section>
  );
}
