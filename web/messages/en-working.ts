/** Text of what unfolds: the working of a trial, the components of an uncertainty. */

export const budgetText = {
  component: 'Component',
  contribution: 'Contribution mL',
  share: 'Share',
  assumed: 'assumed',
  /** In place of a share that rounds to zero. */
  hardly: '< 1',
  components: {
    repeatability: 'spread of the trials',
    'balance-resolution': 'last digit of the balance',
    'balance-linearity': 'linearity of the balance',
    'balance-calibration': 'calibration of the balance',
    'balance-drift': 'drift of the balance',
    'water-temperature': 'temperature of the water',
    'water-density': 'density formula of water',
    'water-purity': 'purity of the water',
    'air-temperature': 'temperature of the air',
    'air-pressure': 'pressure of the air',
    'air-humidity': 'humidity of the air',
    'air-density-formula': 'density formula of air',
    'weights-density': 'density of the weights',
    expansion: 'expansion of the vessel',
    'vessel-temperature': 'vessel not as warm as the water',
    meniscus: 'setting of the meniscus',
    evaporation: 'evaporation',
  } as Record<string, string>,
};

export const workingText = {
  simpleIs: (volume: string) => `Simple division, mass ÷ 1 g/mL, gives ${volume} mL`,
  less: (difference: string) => `, ${difference} mL less.`,
  more: (difference: string) => `, ${difference} mL more.`,
  same: ', the same.',
};
