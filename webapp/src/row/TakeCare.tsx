// What to take care of in the row. Each sentence says no more than its source does.

import { t } from '../messages/messages'
import { Icon } from '../ui/Icon'
import { PageHead } from '../ui/PageHead'
import { href } from '../ui/route'

const subjects = ['blades', 'lifting', 'wet', 'sap', 'sprays', 'animals', 'protected'] as const

export function TakeCare() {
  return (
    <>
      <PageHead title={t('care.title')} back={href('row')} />
      <div class="page reading">
        {subjects.map((subject) => (
          <section class="card" key={subject}>
            <h2><Icon name="care" /> {t(`care.${subject}`)}</h2>
            <p>{t(`care.${subject}.text`)}</p>
          </section>
        ))}
      </div>
    </>
  )
}
