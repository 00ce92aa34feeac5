import { welcomeText as words } from '../../messages/en-class.ts';
import { Button } from '../../parts/button.tsx';
import { Frame } from './frame.tsx';
import type { Group } from './use-group.ts';

/** The group's name and its word, shown plainly until somebody says that it is written down. */
export function Welcome({ group: { kept, memory }, word }: { group: Group; word: string }) {
  return (
    <Frame title={words.title(kept.name ?? '')} screen="welcome">
      <div className="stack class-narrow">
        <div className="card stack tight">
          <p className="quiet">{words.wordLabel}</p>
          <p className="class-word-large">
            <span aria-hidden="true">{word}</span>
            <span className="unseen">{words.spelt(word)}</span>
          </p>
        </div>
        <p>{words.why}</p>
        <div className="row">
          <Button look="primary" bench onClick={() => memory.change(() => ({ isWordWritten: true }))}>
            {words.written}
          </Button>
        </div>
      </div>
    </Frame>
  );
}
