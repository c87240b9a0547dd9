package server

import (
	"context"
	"sync"
	"time"

	"arrisbook/server/paper"
)

// printKept is how long a finished PDF can be fetched: a lesson's walk to the
// printer and back. It names students, so it is not kept for longer.
const printKept = 15 * time.Minute

// printJobs makes PDFs, one at a time on the whole server and one for each of
// the staff: whoever orders another gives the first one up.
type printJobs struct {
	mu   sync.Mutex
	jobs map[int64]*printJob // by staff
	turn chan struct{}       // holds one token
	now  func() time.Time
}

func newPrintJobs(now func() time.Time) *printJobs {
	p := &printJobs{jobs: map[int64]*printJob{}, turn: make(chan struct{}, 1), now: now}
	p.turn <- struct{}{}
	return p
}

// printPlace is what a PDF is of.
type printPlace struct {
	Class      int64
	Assignment int
}

// printJob is one PDF on its way, or made.
type printJob struct {
	place printPlace
	stop  context.CancelFunc
	// ended is closed when nothing more happens.
	ended chan struct{}

	mu       sync.Mutex
	done, of int
	pdf      []byte
	err      error
	made     time.Time
}

// printState is a job as a page shows it.
type printState struct {
	Done, Of int
	Ended    bool
	PDF      []byte // once made
	Err      error
	Made     time.Time
}

// start puts an order on its way, in place of what the person ordered before.
func (p *printJobs) start(staff int64, at printPlace, o paper.Order) *printJob {
	ctx, stop := context.WithCancel(context.Background())
	j := &printJob{place: at, stop: stop, of: len(o.Sheets), ended: make(chan struct{})}
	p.mu.Lock()
	if last, ok := p.jobs[staff]; ok {
		last.stop()
	}
	p.jobs[staff] = j
	p.sweep()
	p.mu.Unlock()
	go func() {
		defer close(j.ended)
		defer stop()
		select {
		case <-p.turn:
			defer func() { p.turn <- struct{}{} }()
		case <-ctx.Done():
		}
		pdf, err := paper.Compose(ctx, o, j.tell)
		j.mu.Lock()
		defer j.mu.Unlock()
		j.pdf, j.err, j.made = pdf, err, p.now()
	}()
	return j
}

func (j *printJob) tell(done, of int) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.done, j.of = done, of
}

// sweep forgets what was made too long ago. The lock is held.
func (p *printJobs) sweep() {
	for staff, j := range p.jobs {
		if s := j.state(); s.Ended && p.now().Sub(s.Made) > printKept {
			delete(p.jobs, staff)
		}
	}
}

// of gives what somebody ordered of a place; ok is false where there is
// nothing, or no more.
func (p *printJobs) of(staff int64, at printPlace) (printState, bool) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.sweep()
	j, ok := p.jobs[staff]
	if !ok || j.place != at {
		return printState{}, false
	}
	return j.state(), true
}

func (j *printJob) state() printState {
	ended := false
	select {
	case <-j.ended:
		ended = true
	default:
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	return printState{Done: j.done, Of: j.of, Ended: ended, PDF: j.pdf, Err: j.err, Made: j.made}
}

// drop gives up what somebody ordered of a place, made or not, and says
// whether there was anything.
func (p *printJobs) drop(staff int64, at printPlace) bool {
	p.mu.Lock()
	defer p.mu.Unlock()
	j, ok := p.jobs[staff]
	if !ok || j.place != at {
		return false
	}
	j.stop()
	delete(p.jobs, staff)
	return true
}
