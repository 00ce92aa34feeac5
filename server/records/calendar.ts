/** Due dates as an iCalendar file (RFC 5545): one entry a day for vessels, one for each instrument; all day long. */
import ICAL from 'ical.js';

export interface DueVessels {
  dueOn: string;
  count: number;
  /** The first of them, as many as are worth reading. */
  tags: readonly string[];
}
export interface DueInstrument {
  id: string;
  tag: string;
  kind: string;
  dueOn: string;
}
export interface DueDates {
  laboratory: string | null;
  vessels: readonly DueVessels[];
  instruments: readonly DueInstrument[];
}

const words = {
  name: (laboratory: string | null) => `Due in ${laboratory ?? 'the laboratory'}`,
  vessels: (count: number) => (count === 1 ? '1 vessel is due' : `${count} vessels are due`),
  more: (count: number) => `and ${count} more`,
  instrument: ({ tag, kind }: DueInstrument) => `${tag}, ${kind}: its certificate runs out`,
};

const dayAfter = (day: string): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);

const allDay = (at: Date, facts: { uid: string; day: string; summary: string; description?: string }) => {
  const event = new ICAL.Component('vevent');
  event.addPropertyWithValue('uid', facts.uid);
  event.addPropertyWithValue('dtstamp', ICAL.Time.fromJSDate(at, true));
  event.addPropertyWithValue('dtstart', ICAL.Time.fromDateString(facts.day));
  event.addPropertyWithValue('dtend', ICAL.Time.fromDateString(dayAfter(facts.day)));
  event.addPropertyWithValue('summary', facts.summary);
  if (facts.description !== undefined) event.addPropertyWithValue('description', facts.description);
  event.addPropertyWithValue('transp', 'TRANSPARENT');
  return event;
};

const tagsInWords = ({ tags, count }: DueVessels): string =>
  [...tags, ...(count > tags.length ? [words.more(count - tags.length)] : [])].join('\n');

export const calendarOf = ({ laboratory, vessels, instruments }: DueDates, at: Date): string => {
  const calendar = new ICAL.Component('vcalendar');
  calendar.addPropertyWithValue('version', '2.0');
  calendar.addPropertyWithValue('prodid', '-//Tarebook//Due dates//EN');
  calendar.addPropertyWithValue('name', words.name(laboratory));
  calendar.addPropertyWithValue('x-wr-calname', words.name(laboratory));
  for (const due of vessels) {
    const facts = { uid: `vessels-${due.dueOn}@tarebook`, day: due.dueOn, summary: words.vessels(due.count) };
    calendar.addSubcomponent(allDay(at, { ...facts, description: tagsInWords(due) }));
  }
  for (const due of instruments) {
    const facts = { uid: `instrument-${due.id}-${due.dueOn}@tarebook`, day: due.dueOn };
    calendar.addSubcomponent(allDay(at, { ...facts, summary: words.instrument(due) }));
  }
  return `${calendar.toString()}\r\n`;
};
