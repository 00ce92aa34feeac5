import { useEffect, useRef, useState } from 'react';
import type { Formula, ReferenceBook } from '../../../server/reference/contract.ts';
import { referenceText } from '../../messages/en-reference.ts';
import { Button } from '../../parts/button.tsx';
import { Loaded } from '../../parts/loading.tsx';
import { Notice } from '../../parts/notice.tsx';
import { useReferenceBook } from './data.ts';
import { Equation } from './equation.tsx';
import { FormulaDetails } from './formula-details.tsx';
import { RoomHeader } from './parts.tsx';

const words = referenceText.formulas;

/** All formulas in use, folded; the one named in the address is open and in sight. */
export function FormulasPage({ id }: { id?: string }) {
  const book = useReferenceBook();
  return (
    <>
      <RoomHeader room="formulas" lead={words.lead} />
      <Loaded query={book} what={referenceText.what}>
        {(loaded) => <FormulaList book={loaded} named={id} />}
      </Loaded>
    </>
  );
}

function FormulaList({ book, named }: { book: ReferenceBook; named: string | undefined }) {
  const [open, setOpen] = useState<ReadonlySet<string>>(() => new Set(named ? [named] : []));
  const isKnown = named === undefined || book.formulas.some((formula) => formula.id === named);
  const turn = (id: string, isOpen: boolean) =>
    setOpen((before) => {
      if (before.has(id) === isOpen) return before;
      const after = new Set(before);
      if (isOpen) after.add(id);
      else after.delete(id);
      return after;
    });
  const allOpen = open.size >= book.formulas.length;
  return (
    <div className="stack">
      {!isKnown && <Notice>{words.unknown(named)}</Notice>}
      <div className="row no-print">
        <Button onClick={() => setOpen(new Set(allOpen ? [] : book.formulas.map((formula) => formula.id)))}>
          {allOpen ? words.closeAll : words.openAll}
        </Button>
      </div>
      <div className="formulas">
        {book.formulas.map((formula) => (
          <FormulaItem
            key={formula.id}
            formula={formula}
            book={book}
            isOpen={open.has(formula.id)}
            isNamed={formula.id === named}
            onTurn={(isOpen) => turn(formula.id, isOpen)}
          />
        ))}
      </div>
    </div>
  );
}

interface FormulaItemProps {
  formula: Formula;
  book: ReferenceBook;
  isOpen: boolean;
  isNamed: boolean;
  onTurn: (isOpen: boolean) => void;
}

function FormulaItem({ formula, book, isOpen, isNamed, onTurn }: FormulaItemProps) {
  const item = useRef<HTMLDetailsElement>(null);
  useEffect(() => {
    if (isNamed) item.current?.scrollIntoView({ block: 'start' });
  }, [isNamed]);
  return (
    <details
      ref={item}
      id={formula.id}
      className="formula"
      open={isOpen}
      onToggle={(event) => onTurn(event.currentTarget.open)}
    >
      <summary>
        <h2>{formula.title}</h2>
        <Equation of={formula.formula} />
      </summary>
      {isOpen && <FormulaDetails formula={formula} sources={book.sources} />}
    </details>
  );
}
