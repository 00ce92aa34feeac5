import { Fragment } from 'react';

/** `ρ_w` is ρ with the index w, `x^2` a power; one token is one letter, word or sign with what hangs on it. */
const PART = /_([\p{L}\d]+)|\^([\p{L}\d.]+)/gu;

interface Piece {
  kind: 'plain' | 'index' | 'power';
  text: string;
}

/** The pieces of a line of plain-text formula. */
export function piecesOf(line: string): Piece[] {
  const pieces: Piece[] = [];
  let from = 0;
  for (const match of line.matchAll(PART)) {
    if (match.index > from) pieces.push({ kind: 'plain', text: line.slice(from, match.index) });
    pieces.push(match[1] === undefined ? { kind: 'power', text: match[2] ?? '' } : { kind: 'index', text: match[1] });
    from = match.index + match[0].length;
  }
  if (from < line.length) pieces.push({ kind: 'plain', text: line.slice(from) });
  return pieces;
}

/** A letter of a formula, with its index set low. */
export function SymbolText({ of }: { of: string }) {
  return (
    <span className="symbol">
      {piecesOf(of).map((piece, index) => {
        if (piece.kind === 'index') return <sub key={index}>{piece.text}</sub>;
        if (piece.kind === 'power') return <sup key={index}>{piece.text}</sup>;
        return <Fragment key={index}>{piece.text}</Fragment>;
      })}
    </span>
  );
}

/** A formula as it stands in the book, one equation a line. */
export function Equation({ of }: { of: string }) {
  return (
    <div className="equation">
      {of.split('\n').map((line) => (
        <p key={line}>
          <SymbolText of={line} />
        </p>
      ))}
    </div>
  );
}
