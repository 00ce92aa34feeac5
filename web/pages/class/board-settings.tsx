import type { ReactNode } from 'react';
import type { Board } from '../../../server/experiments/contract-class.ts';
import { boardText as words } from '../../messages/en-board.ts';
import { type BoardLook, wareOf } from './board-rows.ts';

interface BoardSettingsProps {
  board: Board;
  look: BoardLook;
  onLook: (changed: Partial<BoardLook>) => void;
}

/** How the board is looked at: one line of switches. */
export function BoardSettings({ board, look, onLook }: BoardSettingsProps) {
  return (
    <div className="board-settings no-print" role="group" aria-label={words.settings}>
      <Switch
        {...{ name: 'volume', label: words.volume, value: look.volume }}
        options={{ corrected: words.corrected, simple: words.simple }}
        onChange={(volume) => onLook({ volume })}
      />
      <Switch
        {...{ name: 'scale', label: words.scale, value: look.scale }}
        options={{ millilitres: words.millilitres, relative: words.relative }}
        onChange={(scale) => onLook({ scale })}
      />
      <Switch
        {...{ name: 'rows', label: words.rowsAre, value: look.rowsAre }}
        options={{ ware: words.byWare, groups: words.byGroup }}
        onChange={(rowsAre) => onLook({ rowsAre })}
      />
      {look.rowsAre === 'groups' && board.rows.length > 1 && (
        <select
          className="board-select"
          aria-label={words.ware}
          value={wareOf(board, look)?.key}
          onChange={(event) => onLook({ ware: event.target.value })}
        >
          {board.rows.map(({ key, label }) => (
            <option key={key} value={key}>
              {label}
            </option>
          ))}
        </select>
      )}
      {board.predictions && (
        <Toggle isOn={look.showsPredictions} onChange={(showsPredictions) => onLook({ showsPredictions })}>
          {words.predictions}
        </Toggle>
      )}
      {board.groups.some(({ name }) => name !== null) && (
        <Toggle isOn={look.showsNames} onChange={(showsNames) => onLook({ showsNames })}>
          {words.names}
        </Toggle>
      )}
    </div>
  );
}

interface SwitchProps<V extends string> {
  name: string;
  label: string;
  value: V;
  options: Record<V, string>;
  onChange: (value: V) => void;
}

function Switch<V extends string>({ name, label, value, options, onChange }: SwitchProps<V>) {
  return (
    <fieldset className="board-switch">
      <legend className="unseen">{label}</legend>
      {(Object.keys(options) as V[]).map((option) => (
        <label key={option}>
          <input
            type="radio"
            name={`board-${name}`}
            className="unseen"
            checked={option === value}
            onChange={() => onChange(option)}
          />
          <span>{options[option]}</span>
        </label>
      ))}
    </fieldset>
  );
}

function Toggle({
  isOn,
  onChange,
  children,
}: {
  isOn: boolean;
  onChange: (isOn: boolean) => void;
  children: ReactNode;
}) {
  return (
    <label className="board-toggle">
      <input type="checkbox" checked={isOn} onChange={(event) => onChange(event.target.checked)} />
      <span>{children}</span>
    </label>
  );
}
