import { useState } from 'react';
import { cautionText as words } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Tick } from '../../parts/field.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Frame, type FrameParts } from './frame.tsx';

interface CautionsFirstProps extends FrameParts {
  /** What whoever teaches adds; null for nothing. */
  cautionNote: string | null;
  onDone: () => void;
}

/** What can happen at the bench, ticked off once before the first weighing; rules of the room and the teacher's word first. */
export function CautionsFirst({ cautionNote, onDone, end, banner }: CautionsFirstProps) {
  const [ticked, setTicked] = useState<readonly string[]>([]);
  const [isRefused, setIsRefused] = useState(false);
  const open = words.lines.filter(({ key }) => !ticked.includes(key));
  const goOn = () => {
    if (open.length === 0) return onDone();
    setIsRefused(true);
    document.getElementById(`read-${open[0]?.key ?? ''}`)?.focus();
  };
  return (
    <Frame title={words.title} lead={words.first} end={end} banner={banner} screen="cautions">
      <div className="stack class-narrow">
        {cautionNote && (
          <section className="question">
            <h2 className="class-small-heading">{words.teacher}</h2>
            <p className="class-note">{cautionNote}</p>
          </section>
        )}
        <p>{words.lead}</p>
        <div className="class-cautions">
          {words.lines.map(({ key, title, say }) => (
            <Tick
              key={key}
              name={`read-${key}`}
              checked={ticked.includes(key)}
              onChange={(yes) => setTicked(yes ? [...ticked, key] : ticked.filter((one) => one !== key))}
              label={
                <>
                  <strong>{title}</strong> {say}
                </>
              }
            />
          ))}
        </div>
        <div role="alert">{isRefused && open.length > 0 && <Notice tone="strong">{words.missing}</Notice>}</div>
        <div className="row">
          <Button look="primary" bench onClick={goOn}>
            {words.done}
          </Button>
        </div>
      </div>
    </Frame>
  );
}
