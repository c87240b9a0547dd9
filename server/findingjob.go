package server

import (
	"context"
	"fmt"
	"sync"

	"arrisbook/grading/discover"
)

// findingJobs look for shared wrong formulas beside the requests: one search at
// a time on the whole server, and one for each assignment.
type findingJobs struct {
	banks discover.Banks
	mu    sync.Mutex
	jobs  map[printPlace]*findingJob
	turn  chan struct{} // holds one token
}

func newFindingJobs() *findingJobs {
	f := &findingJobs{jobs: map[printPlace]*findingJob{}, turn: make(chan struct{}, 1)}
	f.turn <- struct{}{}
	return f
}

// findingJob is one search over some numbers of an assignment.
type findingJob struct {
	stop  context.CancelFunc
	ended chan struct{} // closed when nothing more happens

	mu    sync.Mutex
	stage string
	done  float64
}

// findingTask is what is to be searched on one number.
type findingTask struct {
	name string
	// problem makes the problem: answers are judged away from the request.
	problem func() (discover.Problem, error)
	keep    func(context.Context, discover.Report) error
}

// start puts a search on its way; ok is false where one is.
func (f *findingJobs) start(at printPlace, tasks []findingTask, failed func(error)) (ok bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if _, busy := f.jobs[at]; busy {
		return false
	}
	ctx, stop := context.WithCancel(context.Background())
	j := &findingJob{stop: stop, ended: make(chan struct{}), stage: "waiting for its turn"}
	f.jobs[at] = j
	go func() {
		defer close(j.ended)
		defer stop()
		defer f.forget(at)
		select {
		case <-f.turn:
			defer func() { f.turn <- struct{}{} }()
		case <-ctx.Done():
			return
		}
		for i, task := range tasks {
			if err := f.search(ctx, j, i, len(tasks), task); err != nil {
				if ctx.Err() == nil {
					failed(err)
				}
				return
			}
		}
	}()
	return true
}

func (f *findingJobs) forget(at printPlace) {
	f.mu.Lock()
	defer f.mu.Unlock()
	delete(f.jobs, at)
}

// search does one number. What is found is kept number by number, so that
// stopping loses only the one that is being searched.
func (f *findingJobs) search(ctx context.Context, j *findingJob, i, of int, task findingTask) error {
	problem, err := task.problem()
	if err != nil {
		return err
	}
	report, err := f.banks.Search(ctx, problem, func(p discover.Progress) {
		j.tell(fmt.Sprintf("%s: %s", task.name, p.Stage), (float64(i)+p.Done)/float64(of))
	})
	if err != nil {
		return err
	}
	return task.keep(ctx, report)
}

func (j *findingJob) tell(stage string, done float64) {
	j.mu.Lock()
	defer j.mu.Unlock()
	j.stage, j.done = stage, done
}

// of tells how far the search of an assignment is; ok is false for none.
func (f *findingJobs) of(at printPlace) (stage string, done float64, ok bool) {
	f.mu.Lock()
	j := f.jobs[at]
	f.mu.Unlock()
	if j == nil {
		return "", 0, false
	}
	j.mu.Lock()
	defer j.mu.Unlock()
	return j.stage, j.done, true
}

// drop stops the search of an assignment and waits until it is gone.
func (f *findingJobs) drop(at printPlace) {
	f.mu.Lock()
	j := f.jobs[at]
	f.mu.Unlock()
	if j != nil {
		j.stop()
		<-j.ended
	}
}
