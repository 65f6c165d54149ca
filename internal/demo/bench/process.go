package main

import (
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"os/exec"
	"slices"
	"strings"
	"syscall"
	"time"
)

// command is something that is measured, in a process of its own.
type command struct {
	name string
	args []string
	env  []string  // besides that of this process
	out  io.Writer // where its results go; nil: nowhere
	good int       // greatest exit code that is no failure: a check that finds something ends with 1
	each func(run int) []string
}

// cost is what runs of a command took.
type cost struct {
	wall, cpu float64 // seconds, least of all runs
	peak      float64 // bytes, most of all runs
	runs      int
	spent     time.Duration
}

// measure runs the command once and adds what it took. The peak memory that the
// system tells of a child is never less than this process had when it began it:
// nothing big is done here.
func (c *cost) measure(cmd command) error {
	args := cmd.args
	if cmd.each != nil {
		args = cmd.each(c.runs)
	}
	p := exec.Command(args[0], args[1:]...)
	p.Stdout = cmd.out
	p.Env = append(os.Environ(), cmd.env...)
	var said strings.Builder
	p.Stderr = &said
	began := time.Now()
	err := p.Run()
	wall := time.Since(began)
	var ended *exec.ExitError
	if errors.As(err, &ended) && ended.Exited() && ended.ExitCode() <= cmd.good {
		err = nil
	}
	if err != nil {
		return fmt.Errorf("%s: %w\n%s", strings.Join(args, " "), err, said.String())
	}
	usage, ok := p.ProcessState.SysUsage().(*syscall.Rusage)
	if !ok {
		return errors.New("the system does not tell what a process used")
	}
	if c.runs == 0 {
		c.wall, c.cpu = math.Inf(1), math.Inf(1)
	}
	c.runs++
	c.spent += wall
	c.wall = min(c.wall, wall.Seconds())
	c.cpu = min(c.cpu, (p.ProcessState.UserTime() + p.ProcessState.SystemTime()).Seconds())
	c.peak = max(c.peak, float64(usage.Maxrss)*1024)
	return nil
}

// inTurns runs the commands in turns, so that a machine that slows down slows
// all of them.
func (b *bench) inTurns(commands ...command) ([]cost, error) {
	costs := make([]cost, len(commands))
	for range b.runs {
		for i, c := range commands {
			if costs[i].runs > 0 && costs[i].spent > b.budget {
				continue
			}
			if err := costs[i].measure(c); err != nil {
				return nil, err
			}
		}
	}
	return costs, nil
}

// program is a call of the program that is measured.
func (b *bench) program(args ...string) command {
	return command{name: args[0], args: append([]string{b.binary}, args...), good: 1}
}

// own is a call of this program that does one thing and ends.
func (b *bench) own(args ...string) command {
	return command{name: args[0], args: append([]string{b.self, childWord}, args...)}
}

// output is what a command prints, run once and not measured.
func output(c command) (string, error) {
	var out strings.Builder
	c.out = &out
	err := (&cost{}).measure(c)
	return out.String(), err
}

// missing names the first of the tools that is not on this machine; "" when all
// are.
func missing(tools ...string) string {
	i := slices.IndexFunc(tools, func(t string) bool {
		_, err := exec.LookPath(t)
		return err != nil
	})
	if i < 0 {
		return ""
	}
	return tools[i]
}

// growth is the exponent that a cost grows with from one size to a greater one:
// 1 for the same cost a byte.
func growth(costs, sizes [2]float64) float64 {
	return math.Log(costs[1]/costs[0]) / math.Log(sizes[1]/sizes[0])
}
