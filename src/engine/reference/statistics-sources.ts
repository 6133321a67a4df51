import type { Source } from './source.js'

/** Papers and books behind the statistics: methods, not measured values. */
export const STATISTICS_SOURCES = [
  {
    key: 'wilson-1927',
    title:
      'Wilson, Probable inference, the law of succession, and statistical inference, J. Am. Stat. Assoc. 22 (1927) 209-212',
    read: 'from memory',
  },
  {
    key: 'clopper-pearson-1934',
    title: 'Clopper and Pearson, The use of confidence or fiducial limits, Biometrika 26 (1934) 404-413',
    read: 'from memory',
  },
  {
    key: 'fisher-1934',
    title: 'Fisher, Statistical Methods for Research Workers, 5th ed. (1934), section 21.02',
    read: 'from memory',
  },
  {
    key: 'newcombe-1998',
    title:
      'Newcombe, Interval estimation for the difference between independent proportions, Stat. Med. 17 (1998) 873-890',
    read: 'from memory',
  },
  {
    key: 'fieller-1954',
    title: 'Fieller, Some problems in interval estimation, J. R. Stat. Soc. B 16 (1954) 175-185',
    read: 'from memory',
  },
  {
    key: 'huber-1964',
    title: 'Huber, Robust estimation of a location parameter, Ann. Math. Stat. 35 (1964) 73-101',
    read: 'from memory',
  },
  {
    key: 'beaton-tukey-1974',
    title: 'Beaton and Tukey, The fitting of power series, meaning polynomials, Technometrics 16 (1974) 147-185',
    read: 'from memory',
  },
  {
    key: 'sen-1968',
    title:
      "Sen, Estimates of the regression coefficient based on Kendall's tau, J. Am. Stat. Assoc. 63 (1968) 1379-1389",
    read: 'from memory',
  },
  {
    key: 'siegel-1982',
    title: 'Siegel, Robust regression using repeated medians, Biometrika 69 (1982) 242-244',
    read: 'from memory',
  },
  {
    key: 'draper-smith-1998',
    title: 'Draper and Smith, Applied Regression Analysis, 3rd ed. (1998), ch. 1-3',
    read: 'from memory',
  },
  {
    key: 'marquardt-1963',
    title:
      'Marquardt, An algorithm for least-squares estimation of nonlinear parameters, J. Soc. Indust. Appl. Math. 11 (1963) 431-441',
    read: 'from memory',
  },
  {
    key: 'bates-watts-1988',
    title: 'Bates and Watts, Nonlinear Regression Analysis and Its Applications (1988), ch. 2 and 6',
    read: 'from memory',
  },
  {
    key: 'patterson-thompson-1971',
    title:
      'Patterson and Thompson, Recovery of inter-block information when block sizes are unequal, Biometrika 58 (1971) 545-554',
    read: 'from memory',
  },
  { key: 'searle-1992', title: 'Searle, Casella, McCulloch, Variance Components (1992), ch. 6-7', read: 'from memory' },
  {
    key: 'browne-2001',
    title:
      'Browne, Goldstein, Rasbash, Multiple membership multiple classification (MMMC) models, Statistical Modelling 1 (2001) 103-124',
    read: 'from memory',
  },
  {
    key: 'jackson-1955',
    title:
      'Jackson, Scheduling a production line to minimize maximum tardiness, Research Report 43, Management Science Research Project, UCLA (1955)',
    read: 'from memory',
  },
  {
    key: 'edmonds-fulkerson-1965',
    title: 'Edmonds and Fulkerson, Transversals and matroid partition, J. Res. Natl. Bur. Stand. 69B (1965) 147-153',
    read: 'from memory',
  },
] as const satisfies readonly Source[]
