/** Every published work the computation leans on, once. `@source` lines and constants name these keys. */
export interface Work {
  authors: string;
  title: string;
  year: number;
  place: string;
  doi?: string;
}

export const SOURCES = {
  'tanaka-2001': {
    authors: 'Tanaka M, Girard G, Davis R, Peuto A, Bignell N',
    title: 'Recommended table for the density of water between 0 °C and 40 °C based on recent experimental reports',
    year: 2001,
    place: 'Metrologia 38, 301–309',
    doi: '10.1088/0026-1394/38/4/3',
  },
  'cipm-2007': {
    authors: 'Picard A, Davis R S, Gläser M, Fujii K',
    title: 'Revised formula for the density of moist air (CIPM-2007)',
    year: 2008,
    place: 'Metrologia 45, 149–155',
    doi: '10.1088/0026-1394/45/2/004',
  },
  'iso-4787-2021': {
    authors: 'ISO/TC 48',
    title: 'Laboratory glass and plastic ware — Volumetric instruments — Methods for testing of capacity and for use',
    year: 2021,
    place: 'ISO 4787:2021',
  },
  'iso-384-2015': {
    authors: 'ISO/TC 48',
    title: 'Laboratory glass and plastics ware — Principles of design and construction of volumetric instruments',
    year: 2015,
    place: 'ISO 384:2015',
  },
  'iso-4788-2005': {
    authors: 'ISO/TC 48',
    title: 'Laboratory glassware — Graduated measuring cylinders',
    year: 2005,
    place: 'ISO 4788:2005',
  },
  'iso-3585-1998': {
    authors: 'ISO/TC 48',
    title: 'Borosilicate glass 3.3 — Properties',
    year: 1998,
    place: 'ISO 3585:1998',
  },
  'iso-2533-1975': {
    authors: 'ISO/TC 20',
    title: 'Standard Atmosphere',
    year: 1975,
    place: 'ISO 2533:1975',
  },
  'oiml-d-28-2004': {
    authors: 'OIML TC 9/SC 3',
    title: 'Conventional value of the result of weighing in air',
    year: 2004,
    place: 'OIML D 28:2004',
  },
  'jcgm-100-2008': {
    authors: 'Joint Committee for Guides in Metrology',
    title: 'Evaluation of measurement data — Guide to the expression of uncertainty in measurement',
    year: 2008,
    place: 'JCGM 100:2008',
    doi: '10.59161/JCGM100-2008E',
  },
  'jcgm-106-2012': {
    authors: 'Joint Committee for Guides in Metrology',
    title: 'Evaluation of measurement data — The role of measurement uncertainty in conformity assessment',
    year: 2012,
    place: 'JCGM 106:2012',
    doi: '10.59161/JCGM106-2012',
  },
  'jcgm-101-2008': {
    authors: 'Joint Committee for Guides in Metrology',
    title: 'Evaluation of measurement data — Propagation of distributions using a Monte Carlo method',
    year: 2008,
    place: 'JCGM 101:2008',
    doi: '10.59161/JCGM101-2008',
  },
  'marsaglia-tsang-2000': {
    authors: 'Marsaglia G, Tsang W W',
    title: 'The ziggurat method for generating random variables',
    year: 2000,
    place: 'Journal of Statistical Software 5 (8)',
    doi: '10.18637/jss.v005.i08',
  },
  'floyd-rivest-1975': {
    authors: 'Floyd R W, Rivest R L',
    title: 'Expected time bounds for selection',
    year: 1975,
    place: 'Communications of the ACM 18, 165–172',
    doi: '10.1145/360680.360691',
  },
  'grubbs-1969': {
    authors: 'Grubbs F E',
    title: 'Procedures for detecting outlying observations in samples',
    year: 1969,
    place: 'Technometrics 11, 1–21',
    doi: '10.1080/00401706.1969.10490657',
  },
  'iso-5725-1-2023': {
    authors: 'ISO/TC 69',
    title:
      'Accuracy (trueness and precision) of measurement methods and results — Part 1: General principles and definitions',
    year: 2023,
    place: 'ISO 5725-1:2023',
  },
  'iso-5725-2-2019': {
    authors: 'ISO/TC 69',
    title:
      'Accuracy (trueness and precision) of measurement methods and results — Part 2: Basic method for the determination of repeatability and reproducibility of a standard measurement method',
    year: 2019,
    place: 'ISO 5725-2:2019',
  },
  'montgomery-runger-2003': {
    authors: 'Montgomery D C, Runger G C',
    title: 'Applied Statistics and Probability for Engineers, third edition, with its supplements',
    year: 2003,
    place: 'Wiley, New York',
  },
  'searle-1992': {
    authors: 'Searle S R, Casella G, McCulloch C E',
    title: 'Variance Components',
    year: 1992,
    place: 'Wiley, New York',
    doi: '10.1002/9780470316856',
  },
  'abramowitz-stegun-1964': {
    authors: 'Abramowitz M, Stegun I A (eds)',
    title: 'Handbook of Mathematical Functions',
    year: 1964,
    place: 'National Bureau of Standards, Applied Mathematics Series 55',
  },
  'welch-1947': {
    authors: 'Welch B L',
    title: 'The generalization of “Student’s” problem when several different population variances are involved',
    year: 1947,
    place: 'Biometrika 34, 28–35',
    doi: '10.1093/biomet/34.1-2.28',
  },
  'iso-13528-2022': {
    authors: 'ISO/TC 69',
    title: 'Statistical methods for use in proficiency testing by interlaboratory comparison',
    year: 2022,
    place: 'ISO 13528:2022',
  },
  'iso-8655-2-2002': {
    authors: 'ISO/TC 48',
    title: 'Piston-operated volumetric apparatus — Part 2: Piston pipettes',
    year: 2002,
    place: 'ISO 8655-2:2002',
  },
  'usp-31-2006': {
    authors: 'United States Pharmacopeial Convention',
    title: 'General chapter <31>, Volumetric apparatus',
    year: 2006,
    place: 'USP 29',
  },
  'ilac-g24-2022': {
    authors: 'International Laboratory Accreditation Cooperation, OIML',
    title: 'Guidelines for the determination of recalibration intervals of measuring equipment',
    year: 2022,
    place: 'ILAC-G24:2022, OIML D 10:2022',
  },
  'ukas-lab-15-2009': {
    authors: 'United Kingdom Accreditation Service',
    title: 'Traceability: volumetric apparatus, edition 2',
    year: 2009,
    place: 'UKAS LAB 15',
  },
  'draper-smith-1998': {
    authors: 'Draper N R, Smith H',
    title: 'Applied Regression Analysis, third edition',
    year: 1998,
    place: 'Wiley, New York',
    doi: '10.1002/9781118625590',
  },
  'nist-handbook-2012': {
    authors: 'NIST/SEMATECH',
    title: 'e-Handbook of Statistical Methods',
    year: 2012,
    place: 'National Institute of Standards and Technology',
    doi: '10.18434/M32189',
  },
  'clopper-pearson-1934': {
    authors: 'Clopper C J, Pearson E S',
    title: 'The use of confidence or fiducial limits illustrated in the case of the binomial',
    year: 1934,
    place: 'Biometrika 26, 404–413',
    doi: '10.1093/biomet/26.4.404',
  },
  'ciaaw-2024': {
    authors: 'IUPAC Commission on Isotopic Abundances and Atomic Weights',
    title: 'Standard atomic weights of the elements',
    year: 2024,
    place: 'Table of standard atomic weights 2024',
  },
  'possolo-2018': {
    authors: 'Possolo A, van der Veen A M H, Meija J, Hibbert D B',
    title: 'Interpreting and propagating the uncertainty of the standard atomic weights',
    year: 2018,
    place: 'Pure and Applied Chemistry 90, 395–424',
    doi: '10.1515/pac-2016-0402',
  },
  'eurachem-cg-4-2012': {
    authors: 'Ellison S L R, Williams A (eds)',
    title: 'Quantifying uncertainty in analytical measurement, third edition',
    year: 2012,
    place: 'Eurachem/CITAC Guide CG 4',
  },
  'usp-41-2013': {
    authors: 'United States Pharmacopeial Convention',
    title: 'General chapter <41>, Balances',
    year: 2013,
    place: 'USP 37',
  },
  'ilac-g8-2019': {
    authors: 'International Laboratory Accreditation Cooperation',
    title: 'Guidelines on decision rules and statements of conformity',
    year: 2019,
    place: 'ILAC-G8:09/2019',
  },
} as const satisfies Record<string, Work>;

/** `common-practice` marks what the trade does without a published work to point at. */
export type SourceKey = keyof typeof SOURCES | 'common-practice';

/** A number with where it comes from. */
export interface Constant {
  value: number;
  unit: string;
  standardUncertainty?: number;
  source: SourceKey;
  locator: string;
}
