import { keepText as words } from '../../messages/en-solutions.ts';
import { Button } from '../../parts/button.tsx';

interface UndoLineProps {
  /** This line stands by the form as a whole, or by its rows. */
  at: 'form' | 'rows';
  dropped: { at: 'form' | 'rows'; what: string } | null;
  undo: () => void;
}

/** Says what was taken away, and puts it back. */
export function UndoLine({ at, dropped, undo }: UndoLineProps) {
  const isHere = dropped?.at === at;
  return (
    <div role="status" className="undo-line">
      {isHere && (
        <>
          {dropped.what}{' '}
          <Button look="quiet" onClick={undo}>
            {words.undo}
          </Button>
        </>
      )}
    </div>
  );
}
