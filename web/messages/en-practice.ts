/** Text of the reference room about the work at the bench, and the words used everywhere. */
import type { VesselKind } from '../../server/metrology/record.ts';

/** A statement with where it comes from, so that nobody takes a habit for a rule. */
export interface Statement {
  say: string;
  from: string;
}

const PRACTICE = 'common practice, no source';
const MEMORY = 'from memory, not checked';

interface KindText {
  goodFor: string;
  notFor: string;
  handling: string;
}

const kinds: Record<VesselKind, KindText> = {
  'volumetric-flask': {
    goodFor: 'Making a solution up to one exact volume.',
    notFor: 'Pouring that volume out: marked In, it keeps a film of it. Storing or heating.',
    handling: 'Weigh it dry with its stopper, fill to the ring mark, dry the neck above the mark, weigh again.',
  },
  'single-volume-pipette': {
    goodFor: 'Moving one exact volume, the best transfer there is in glass.',
    notFor: 'Any other volume. Blowing out the last drop, unless a band says so.',
    handling: 'Let it run out freely with the tip at the wall of the receiver, then wait as its class asks.',
  },
  'graduated-pipette': {
    goodFor: 'Small volumes of any size, where a few parts in a thousand will do.',
    notFor: 'A volume for which there is a single-volume pipette.',
    handling:
      'Calibrate several points; use at least half of its length. See whether zero is at the top or at the tip.',
  },
  burette: {
    goodFor: 'Adding until something happens, and reading how much it was.',
    notFor: 'Differences of a few divisions: two settings of the meniscus go into each.',
    handling: 'Free the tip of air, set to zero, run out slowly, wait, read. Calibrate from zero to each point.',
  },
  'measuring-cylinder': {
    goodFor: 'Volumes within about one per cent.',
    notFor: 'Standard solutions and anything that is worked back to a mass.',
    handling: 'Stand it level. Most are marked In: what pours out is less.',
  },
  beaker: {
    goodFor: 'Holding, mixing, warming. Its marks say roughly how full it is.',
    notFor: 'Measuring: five to ten per cent.',
    handling: 'Each mark is a test point of its own, with its limit in per cent of the mark.',
  },
  'conical-flask': {
    goodFor: 'Swirling a titration without loss. Its marks are as rough as a beaker’s.',
    notFor: 'Measuring: about five per cent.',
    handling: 'Each mark is a test point of its own, with its limit in per cent of the mark.',
  },
  pycnometer: {
    goodFor: 'Densities: a volume closed by its stopper, without a meniscus.',
    notFor: 'Delivering anything. Nobody sets a tolerance; its own volume is what it is calibrated for.',
    handling: 'Bring it to temperature full, seat the stopper, wipe the capillary level, dry, weigh at once.',
  },
  'piston-pipette': {
    goodFor: 'Many small volumes quickly, from a microlitre to ten millilitres.',
    notFor: 'Volatile or viscous liquids with an air cushion; work without its own tips.',
    handling: 'Test at full, half and a tenth of its range, wet the tip first, watch evaporation below 0.2 mL.',
  },
  other: {
    goodFor: 'Ware without a table of its own: cups, tubes, measures.',
    notFor: 'A verdict, unless a tolerance is marked on it or a row is named.',
    handling: 'Say what the mark is and whether it contains or delivers.',
  },
};

export const practiceText = {
  from: (source: string) => `(${source})`,
  meniscus: {
    lead: 'In a good calibration the setting of the meniscus is often the largest doubt. One person, one rule, one light.',
    eyeTitle: 'Where the eye stands',
    eye: {
      level:
        'Level: front and back of the ring mark cover each other, and the lowest point of the meniscus touches it.',
      high: 'Too high: the lowest point seems to touch the front of the mark while it still lies below it. Too little is in the vessel.',
      low: 'Too low: the lowest point seems to touch the mark while it already lies above it. Too much is in the vessel.',
    },
    eyeShort: { level: 'level', high: 'eye too high', low: 'eye too low' },
    drawing: {
      level:
        'A neck with a ring mark; the line of sight runs level through the mark to the lowest point of the meniscus.',
      high: 'The line of sight falls from a high eye through the front of the mark to a meniscus that lies below it.',
      low: 'The line of sight rises from a low eye through the front of the mark to a meniscus that lies above it.',
    },
    angle: 'Eye off the level by',
    ruleTitle: 'Which part of the line',
    rules: {
      'upper-edge': 'The lowest point touches the upper edge of the line, seen from just below.',
      centre: 'The lowest point lies in the middle of the line.',
    },
    ruleDrawing: {
      'upper-edge': 'Close view: the meniscus stands on the upper edge of a thick line.',
      centre: 'Close view: the bottom of the meniscus lies in the middle of a thick line.',
    },
    ruleKeep:
      'Both rules are in use, and they differ by half the width of the line. Record the one used, and use the vessel later by the same one.',
    costTitle: 'What a misplaced meniscus costs',
    diameter: 'Inner diameter where the meniscus stands',
    offset: 'Meniscus off by',
    offsetCost: 'by the height of the meniscus',
    angleCost: 'by the eye alone',
    share: (percent: string) => `${percent} of ±0.1 mL`,
    ofTolerance: 'For comparison: ±0.1 mL is the tolerance of a 100 mL flask of ISO 1042:1998, class A.',
    aboveZero: 'Type a value above zero.',
    notNegative: 'Type zero or a value above it.',
    angleRange: 'Type an angle from 0 to 45 degrees.',
    howTitle: 'How it is done',
    how: [
      { say: 'Hold or clamp the tube upright and bring the eye into the plane of the mark.', from: 'NIST GMP 3' },
      { say: 'Read the lowest point of a hollow meniscus.', from: 'NIST GMP 3' },
      {
        say: 'Hold a dark strip behind the tube, its edge about a millimetre below the meniscus: it darkens the lower rim and makes it sharp.',
        from: 'old textbook practice; the millimetre from memory',
      },
      {
        say: 'Liquids that cannot be seen through are read at the upper rim, also when calibrating for them.',
        from: MEMORY,
      },
      {
        say: 'Fill to just below the mark, wait until the wall has drained, then bring the last drops from a fine tip.',
        from: PRACTICE,
      },
      {
        say: 'Take drops above the mark out of the neck with a strip of filter paper before weighing; do not touch the liquid.',
        from: 'teaching laboratories',
      },
      {
        say: 'A meniscus with a crooked rim, or drops that stay on the wall, mean the glass is not clean. Clean it and begin again.',
        from: 'teaching laboratories',
      },
      {
        say: 'For a delivering vessel, stop about five millimetres above the line, wait, then set.',
        from: 'Chinese verification practice',
      },
    ] satisfies Statement[],
  },
  vessels: {
    lead: 'Marked In (TC), a vessel contains its volume; marked Ex (TD), it delivers it and the film that stays behind is already allowed for. Neither stands for the other.',
    compare: 'How tight the limits are',
    size: 'Nominal volume',
    ladderNote:
      'Bead: the tightest limit listed. Line: up to the widest, of other classes and standards. Each step of the axis is ten times the one before.',
    compareNone: 'No limits are listed for this volume.',
    row: (standard: string, edition: string, toleranceClass: string | null) =>
      toleranceClass === null ? `${standard}, ${edition}` : `${standard}, ${edition}, class ${toleranceClass}`,
    limit: (percent: string, millilitres: string) => `±${percent} % (±${millilitres} mL)`,
    kindsTitle: 'The kinds one by one',
    goodFor: 'Good for',
    notFor: 'Not for',
    handling: 'Handling',
    kinds,
    drawing: (kind: string) => `Outline of a ${kind}, filled to its mark.`,
    toTable: (kind: string) => `Limits of the ${kind}`,
    timesTitle: 'Waiting and running out',
    times: [
      {
        say: 'Class A ware asks for no waiting time; class AS for the one printed on it, and only then is its limit meant.',
        from: 'teaching page of a Swiss university',
      },
      { say: 'Waiting times of class AS are 5 s for single-volume pipettes and 30 s for burettes.', from: MEMORY },
      { say: 'Let nothing run out faster than half a millilitre a second.', from: 'USP, general chapter 31' },
      { say: 'A ring or band near the top means that the last drop is blown out.', from: 'UKAS LAB 15' },
      { say: 'Hold the receiver aslant and let the tip touch its wall.', from: MEMORY },
    ] satisfies Statement[],
    careTitle: 'Clean, dry, unchanged',
    care: [
      { say: 'A clean wall wets evenly: a film, no drops.', from: 'teaching laboratories' },
      { say: 'Weigh In ware dry when empty. Ex ware is used wet, drained the same way each time.', from: PRACTICE },
      {
        say: 'On heat the sources disagree. Up to 150 °C borosilicate glass keeps its calibration, soda-lime glass up to 90 °C.',
        from: 'ASTM E542-01',
      },
      { say: 'Borosilicate flasks heated to 320 °C showed no significant change.', from: 'Burfield and Hefter 1987' },
      { say: 'Keep volumetric ware out of ovens, hot-air dryers and washing machines.', from: 'UKAS LAB 15' },
      {
        say: 'Hydrofluoric acid, hot phosphoric acid and hot alkali dissolve glass: whatever met them needs a new calibration.',
        from: 'ASTM E542-01',
      },
      { say: 'Let water and vessel stand in the weighing room for at least an hour.', from: 'RD 52.04.186-89' },
    ] satisfies Statement[],
  },
  cautions: {
    lead: 'Short reminders of what can happen.',
    first: 'These lines replace no instruction where you work.',
    list: [
      {
        title: 'Broken and chipped glass',
        say: 'A chipped mouth cuts and changes the volume. Take the vessel out of use and say so in its record; broken glass goes where your laboratory collects it.',
      },
      {
        title: 'Pipettes and bulbs',
        say: 'Never draw up by mouth. Hold the pipette near its top when pushing on a bulb: it breaks between the hands, and a hand is in the way.',
      },
      {
        title: 'Heavy and tall vessels',
        say: 'Two litres of water with the flask weigh well over two kilograms. Carry with both hands, one below; a wet neck slips.',
      },
      {
        title: 'Water near the balance',
        say: 'Spilt water and mains plugs do not go together. Wipe up at once, also the floor: others walk there.',
      },
      {
        title: 'Drying with solvents',
        say: 'Ethanol and acetone burn, and their vapour creeps. Keep them away from ovens, hot-air dryers and flames; work with ventilation.',
      },
      {
        title: 'Cleaning baths',
        say: 'Strong acids and alkalis burn skin and eyes and must not meet each other or solvents. Use what your laboratory allows, with goggles and gloves. Old recipes with chromates are poisonous and not needed.',
      },
      {
        title: 'Hot glass',
        say: 'It looks like cold glass, and it cracks when cold water meets it. Let it cool in the room before it is filled or weighed.',
      },
      {
        title: 'Closed vessels that warm up',
        say: 'A full, stoppered flask can push its stopper out or burst as it warms. Leave it open until it is at the temperature of the room.',
      },
      {
        title: 'Old thermometers and barometers',
        say: 'Mercury gives off poisonous vapour that is neither seen nor smelt. After a break keep people away, open the windows and follow your laboratory’s procedure; do not sweep or vacuum.',
      },
      {
        title: 'What was in it before',
        say: 'A vessel sent for calibration may hold remains of what it was used for. Ask before touching; have it cleaned by whoever knows.',
      },
    ],
  },
  words: {
    lead: 'One word for one thing, on every page, in every export and in the code.',
    list: [
      {
        word: 'vessel',
        means: 'Any piece of volumetric ware under calibration. Its tag is the laboratory’s own mark on it.',
      },
      { word: 'kind', means: 'What sort of vessel or instrument it is: volumetric flask, burette, balance …' },
      { word: 'nominal volume', means: 'What the mark says.' },
      {
        word: 'test point',
        means:
          'A nominal volume at which a vessel is tested. One-mark ware has one; graduated ware, beakers and conical flasks have several.',
      },
      { word: 'to contain (In)', means: 'The mark means what is in the vessel. Elsewhere also TC.' },
      { word: 'to deliver (Ex)', means: 'The mark means what runs out of it. Elsewhere also TD.' },
      {
        word: 'tolerance',
        means:
          'The largest error a vessel may have either way: of a class of a named standard and edition, or as marked on it.',
      },
      {
        word: 'tolerance class',
        means: 'A, AS, B … of one standard. The same letter in two standards is not the same class.',
      },
      { word: 'reading', means: 'What the balance displayed, kept as text with all its digits.' },
      { word: 'trial', means: 'One weighing empty and one filled, with the temperature of the water.' },
      {
        word: 'calibration',
        means: 'All trials of one vessel on one occasion, with conditions, instruments, method, rule and result.',
      },
      { word: 'mean volume', means: 'Mean of the counted trials at the reference temperature.' },
      { word: 'bias', means: 'Mean volume minus the test point.' },
      { word: 'spread', means: 'Standard deviation of single trials.' },
      { word: 'simple volume', means: 'Mass divided by 1 g/mL, shown for comparison.' },
      {
        word: 'expanded uncertainty (U)',
        means:
          'How far the true mean may lie from the one found, at the stated probability; k says by which factor it was widened.',
      },
      {
        word: 'verdict',
        means:
          'Pass, conditional pass, conditional fail, fail, not decidable or none stated, always with the rule that made it.',
      },
      {
        word: 'guarded, simple',
        means:
          'The two rules of decision: guarded takes U off the tolerance before anything passes; simple compares with the tolerance itself, where U is at most a third of it.',
      },
      { word: 'finding', means: 'Something the data say beside a result. Never a refusal.' },
      {
        word: 'refusal',
        means: 'Something Tarebook does not take, by name, with what to do. In the answers to programs: a problem.',
      },
      {
        word: 'excluded trial',
        means: 'A trial left out of the mean for a named cause. It stays in the record and is counted: “9 of 10”.',
      },
      {
        word: 'correction',
        means:
          'Of a typing slip: the old value stays readable beside the new one. Of an instrument: from its certificate.',
      },
      { word: 'instrument', means: 'Balance, thermometer, barometer or hygrometer used to measure with.' },
      { word: 'journal', means: 'The list of every act, chained by hashes: nobody can change an old entry unseen.' },
      {
        word: 'Z factor',
        means: 'Millilitres for each gram on the balance, at one water temperature and air density.',
      },
      {
        word: 'reference temperature',
        means: 'The temperature at which the mark is meant: 20 °C, in hot countries 27 °C.',
      },
      {
        word: 'trueness',
        means: 'How near the mean of many fillings lies to the true volume (ISO 5725); the bias is its measure.',
      },
      {
        word: 'precision',
        means: 'How near fillings lie to one another (ISO 5725); standard deviations are its measure.',
      },
      {
        word: 'accuracy',
        means: 'Trueness and precision together. Everyday speech often means only one of them by it.',
      },
      {
        word: 'repeatability (s_r)',
        means: 'Spread of fillings by one group, one after another, all else alike.',
      },
      {
        word: 'spread between groups (s_L)',
        means:
          'What groups add to the spread beyond their own repeatability. Where it comes out negative it counts as 0, and that is said.',
      },
      {
        word: 'within-room precision (s_R)',
        means: 'Spread of one filling by anybody in the room: s_r and s_L together.',
      },
      {
        word: 'experiment, group',
        means:
          'What a class measures in a lesson; the students who weigh together. Neither is evidence about a vessel.',
      },
    ],
  },
};
