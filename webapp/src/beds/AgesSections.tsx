// The parts of a report that are folded away, each with a line that says what is in it.

import { t } from '../messages/messages'
import { useNotebook } from '../ui/notebook'
import type { Age, Note, Report } from './ages_report'
import { inHundred } from './ages_sentence'
import { agesSettings } from './ages_settings'
import { AgesGraders, gradersFor } from './AgesGraders'
import { lengthsHint, LengthsTable } from './AgesLengths'
import { BedsTable, seasonsSentence, SeasonsTable } from './AgesSeasons'
import { AgesSection } from './AgesSection'
import { SmallPrint, spreadSentence, SpreadTable } from './AgesSpread'
import { survivalSentence, SurvivalTable } from './AgesSurvival'
import { GradesTable } from './AgesTables'
import { bestHint, BestPlants } from './BestPlants'
import { GradeBars } from './GradeBars'

interface AgesSectionsProps {
  readonly report: Report
  readonly lead: Age | undefined
  /** What is said of graders who cannot be compared. */
  readonly apart: readonly Note[]
}

export function AgesSections({ report, lead, apart }: AgesSectionsProps) {
  const hundred = inHundred(report.level)
  return (
    <>
      <OfStems report={report} lead={lead} hundred={hundred} />
      <OfPlants report={report} apart={apart} hundred={hundred} />
    </>
  )
}

interface PartProps {
  readonly report: Report
  readonly hundred: number
}

/** Grades, lengths, seasons and beds. */
function OfStems({ report: { ages, survival }, lead, hundred }: PartProps & { readonly lead: Age | undefined }) {
  const { unit } = useNotebook().farm.value
  const { per } = agesSettings.value
  return (
    <>
      {ages.some((age) => age.grades.length > 0) && (
        <AgesSection name="grades" title={t('ages.section.grades')}>
          <GradeBars ages={ages} />
          <GradesTable ages={ages} hundred={hundred} />
        </AgesSection>
      )}
      {ages.some((age) => age.length_cm) && (
        <AgesSection name="lengths" title={t('ages.section.lengths')} hint={lengthsHint(lead, unit)}>
          <LengthsTable ages={ages} unit={unit} hundred={hundred} />
        </AgesSection>
      )}
      {ages.some((age) => age.seasons) && (
        <AgesSection name="seasons" title={t('ages.section.seasons')} hint={seasonsSentence(ages)}>
          <SeasonsTable ages={ages} survival={survival} per={per} hundred={hundred} />
        </AgesSection>
      )}
      {ages.some((age) => age.beds) && (
        <AgesSection name="beds" title={t('ages.section.beds')} hint={t('ages.beds.hint')}>
          <BedsTable ages={ages} hundred={hundred} />
        </AgesSection>
      )}
    </>
  )
}

/** How plants differ and last, the best of them, and the people who grade. */
function OfPlants({ report: { plants = [], spread, survival, rests = [] }, apart, hundred }: PartProps & { readonly apart: readonly Note[] }) {
  const graders = gradersFor(useNotebook().member.value, spread?.graders ?? [])
  return (
    <>
      {survival && survival.ages.length > 0 && (
        <AgesSection name="survival" title={t('ages.section.survival')} hint={survivalSentence(survival)}>
          <SurvivalTable survival={survival} hundred={hundred} />
        </AgesSection>
      )}
      {plants.length > 0 && (
        <AgesSection name="best" title={t('ages.section.best')} hint={bestHint(plants)}>
          <BestPlants plants={plants} hundred={hundred} />
        </AgesSection>
      )}
      {spread && (
        <AgesSection name="spread" title={t('ages.section.spread')} hint={spreadSentence(spread)}>
          <SpreadTable spread={spread} hundred={hundred} />
          <SmallPrint rests={rests} />
        </AgesSection>
      )}
      {graders.length > 0 && (
        <AgesSection name="graders" title={t('ages.section.graders')}>
          <AgesGraders graders={graders} apart={apart} hundred={hundred} />
        </AgesSection>
      )}
    </>
  )
}
