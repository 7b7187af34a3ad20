package quantity

type StudRow struct{}
type TopRow struct{}
type CutRow struct{}
type ScheduleRow struct{}
type LabourRow struct{}
type Check struct{}
type Cost struct{}

func (t *taker) framing()    {}
func (t *taker) finishing()  {}
func (t *taker) insulation() {}
func (t *taker) sealant()    {}
func (t *taker) lifting()    {}
func (t *taker) tops()       {}
func (t *taker) cutList()    {}
func (t *taker) schedule()   {}
func (t *taker) order()      {}
func (t *taker) stocking()   {}
func (t *taker) labour()     {}
func (t *taker) checks()     {}
func (t *taker) cost()       {}
