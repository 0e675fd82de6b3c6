// English of the bench beside the row.

export const enBenchRow = {
  'bench_row.title': 'Row and bench',
  'bench_row.at_least': 'at least {stems}',
  'bench_row.none': 'Row {row}; nothing on the bench yet.',
  'bench_row.same': 'Row {row}, bench {bench}: **the same**.',
  'bench_row.fewer': { one: 'Row {row}, bench {bench}: **{n} fewer on the bench**.', other: 'Row {row}, bench {bench}: **{n} fewer on the bench**.' },
  'bench_row.more': { one: 'Row {row}, bench {bench}: **{n} more on the bench**.', other: 'Row {row}, bench {bench}: **{n} more on the bench**.' },
  'bench_row.sides': 'Row {row}, bench {bench}.',
  'bench_row.part.fewer': { one: 'Row {row}, bench {bench}: **at least {n} fewer on the bench**.', other: 'Row {row}, bench {bench}: **at least {n} fewer on the bench**.' },
  'bench_row.part.more': { one: 'Row {row}, bench {bench}: **at least {n} more on the bench**.', other: 'Row {row}, bench {bench}: **at least {n} more on the bench**.' },
  'bench_row.part': 'In the row only a part was counted, so it is not compared as a whole.',
  'bench_row.bench_part': 'On the bench only a part was counted, so it is not compared as a whole.',
  'bench_row.check.fewer': 'Worth a look: a bucket not counted yet; stems thrown away in the row; stems sorted out and left out of the count; a phone that has not sent its bench total.',
  'bench_row.check.more': 'Worth a look: a bucket of another bed or day; a cut in the row that nobody counted; a phone that has not sent what it counted in the row.',
  'bench_row.by_colour': 'By colour class',
  'bench_row.by_grade': 'By grade',
  'bench_row.row': 'Row',
  'bench_row.row.part': 'Row, at least',
  'bench_row.bench': 'Bench',
  'bench_row.bench.part': 'Bench, at least',
  'bench_row.difference': 'Bench less row',
} as const
