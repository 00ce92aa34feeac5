import { eraseText as words, waitingText } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Notice } from '../../parts/notice.tsx';
import { Frame } from './frame.tsx';
import { type Kept, typedRows } from './memory.ts';
import type { Place } from './place.ts';
import { wordsOf } from './waiting.tsx';

interface ErasedProps {
  kept: readonly Kept[];
  onForget: () => void;
  go: (to: Place) => void;
}

/** The class was erased: this device says so, and has nothing of it but what never reached the class. */
export function Erased({ kept, onForget, go }: ErasedProps) {
  const forget = () => {
    onForget();
    go('join');
  };
  return (
    <Frame title={words.title} lead={words.what} screen="erased">
      <div className="stack wide-gaps">
        <Leftover of={kept} />
        <div className="row">
          <Button look="primary" bench onClick={forget}>
            {linesOf(kept).length > 0 ? words.clear : words.another}
          </Button>
        </div>
      </div>
    </Frame>
  );
}

const linesOf = (all: readonly Kept[]): string[] =>
  all.flatMap((kept) => [
    ...kept.waiting.map((one) => wordsOf(one, kept.page)),
    ...typedRows(kept).map(([row, typed]) => {
      const label = kept.page?.experiment.rows.find(({ key }) => key === row)?.label ?? row;
      return typed.volumeMl === ''
        ? `${label}. ${waitingText.trial(typed.emptyG || words.blank, typed.filledG || words.blank)}`
        : `${label}. ${waitingText.foreseen(typed.volumeMl)}`;
    }),
  ]);

/** What was typed here and never reached the class: the only place where it still stands. */
export function Leftover({ of }: { of: readonly Kept[] }) {
  const lines = linesOf(of);
  if (lines.length === 0) return null;
  return (
    <Notice tone="strong">
      <p>{words.left(lines.length)}</p>
      <ul>
        {lines.map((line, index) => (
          <li key={index}>{line}</li>
        ))}
      </ul>
    </Notice>
  );
}
