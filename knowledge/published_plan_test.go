package knowledge_test

import (
	"fmt"
	"maps"
	"slices"
	"strconv"
	"strings"
	"time"

	"mendwright/engine/plan"
	"mendwright/knowledge"
	"mendwright/rules/interval"
	"mendwright/rules/strictyaml"
)

func init() {
	published["planning.yaml"] = struct{ values, skipped int }{59, 0}
	maps.Copy(calculators, planCalculators)
}

// planSteps reads a list of estimates, each least, likely and most.
func planSteps(in *strictyaml.Map) (plan.Spread, error) {
	var steps []plan.Estimate
	list, _ := in.Need("steps")
	for _, n := range list.List() {
		three := n.Nums(3)
		e := plan.Estimate{Low: three[0], Likely: three[1], High: three[2]}
		if err := e.Valid(); err != nil {
			return plan.Spread{}, err
		}
		steps = append(steps, e)
	}
	return plan.Total(steps...), nil
}

// planTasks reads a list of tasks such as "coat 0.5+24 sand stain": half an hour of work, a day of
// waiting, after the other two.
func planTasks(in *strictyaml.Map) ([]plan.Task, error) {
	var tasks []plan.Task
	list, _ := in.Need("tasks")
	for _, n := range list.List() {
		words := strings.Fields(n.Str())
		task := plan.Task{Name: words[0], Stage: len(tasks)}
		work, wait, waits := strings.Cut(words[1], "+")
		var err error
		if task.Work, err = strconv.ParseFloat(work, 64); err == nil && waits {
			task.Wait, err = strconv.ParseFloat(wait, 64)
		}
		if err != nil {
			return nil, err
		}
		for _, before := range words[2:] {
			i := slices.IndexFunc(tasks, func(t plan.Task) bool { return t.Name == before })
			if i < 0 {
				return nil, fmt.Errorf("there is no task %q above %s", before, task.Name)
			}
			task.After = append(task.After, i)
		}
		tasks = append(tasks, task)
	}
	return tasks, nil
}

// ofNetwork answers from a network as a whole.
func ofNetwork(answer func(plan.Network, []plan.Task) any) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		tasks, err := planTasks(in)
		if err != nil {
			return nil, err
		}
		n, err := plan.Critical(tasks)
		return answer(n, tasks), err
	}
}

// ofTask answers from one task of a network.
func ofTask(answer func(plan.Times) any) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		name := in.Str("of")
		tasks, err := planTasks(in)
		if err != nil {
			return nil, err
		}
		i := slices.IndexFunc(tasks, func(t plan.Task) bool { return t.Name == name })
		if i < 0 {
			return nil, fmt.Errorf("there is no task %q", name)
		}
		n, err := plan.Critical(tasks)
		if err != nil {
			return nil, err
		}
		return answer(n.Tasks[i]), nil
	}
}

// planDeal reads a deal; what is not given is nothing.
func planDeal(in *strictyaml.Map) plan.Deal {
	sum := func(key string) interval.Range {
		if _, ok := in.Opt(key); ok {
			return span(in, key)
		}
		return interval.Range{}
	}
	return plan.Deal{Price: sum("price"), Fee: sum("fee"), Bought: sum("bought"), Materials: sum("materials"), Fixed: sum("fixed"), Rate: sum("rate"), Hours: sum("hours")}
}

func ofDeal(answer func(plan.Deal) (interval.Range, error)) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) { return answer(planDeal(in)) }
}

func ofWantedProfit(answer func(plan.Deal, interval.Range) (interval.Range, error)) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return answer(planDeal(in), span(in, "wanted"))
	}
}

// ofLuck reads a deal whose price lies anywhere between two ends and whose hours are three points.
func ofLuck(answer func(plan.Outlook) interval.Range) func(*knowledge.Loaded, *strictyaml.Map) (any, error) {
	return func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		three, _ := in.Need("hours")
		h := three.Nums(3)
		hours := plan.Total(plan.Estimate{Low: h[0], Likely: h[1], High: h[2]})
		price := span(in, "price")
		d := plan.Deal{Price: interval.Exact(price.Mid()), Fee: span(in, "fee"), Bought: span(in, "bought"), Materials: span(in, "materials"),
			Fixed: span(in, "fixed"), Rate: span(in, "rate"), Hours: interval.Exact(hours.Mean)}
		o, err := d.Outlook(interval.Exact(price.Std()), interval.Exact(hours.Std()))
		return answer(o), err
	}
}

var planCalculators = map[string]func(*knowledge.Loaded, *strictyaml.Map) (any, error){
	"plan-mean": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		s, err := planSteps(in)
		return s.Mean, err
	},
	"plan-variance": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		s, err := planSteps(in)
		return s.Variance, err
	},
	"plan-chance": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		s, err := planSteps(in)
		return s.Chance(number(in, "deadline")), err
	},

	"plan-duration": ofNetwork(func(n plan.Network, _ []plan.Task) any { return n.Duration }),
	"plan-work":     ofNetwork(func(n plan.Network, _ []plan.Task) any { return n.Work }),
	"plan-in-a-row": ofNetwork(func(n plan.Network, _ []plan.Task) any { return n.InARow }),
	"plan-path": ofNetwork(func(n plan.Network, tasks []plan.Task) any {
		var names []string
		for _, i := range n.Path {
			names = append(names, tasks[i].Name)
		}
		return strings.Join(names, " ")
	}),
	"plan-slack": ofTask(func(t plan.Times) any { return t.Slack }),
	"plan-times": ofTask(func(t plan.Times) any {
		return fmt.Sprint(t.EarlyStart, t.EarlyFinish, t.LateStart, t.LateFinish, t.Slack)
	}),
	"plan-laid": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		tasks, err := planTasks(in)
		if err != nil {
			return nil, err
		}
		start := time.Date(2026, 5, 4, 9, 0, 0, 0, time.UTC)
		s, err := plan.Lay(tasks, plan.Week{}, start)
		return s.Done.Sub(start).Hours(), err
	},

	"plan-net":           ofDeal(plan.Deal.Net),
	"plan-profit":        ofDeal(plan.Deal.Profit),
	"plan-break-even":    ofDeal(plan.Deal.BreakEven),
	"plan-hour-earns":    ofDeal(plan.Deal.HourEarns),
	"plan-margin":        ofDeal(plan.Deal.Margin),
	"plan-highest-bid":   ofWantedProfit(plan.Deal.HighestBid),
	"plan-hours-allowed": ofWantedProfit(plan.Deal.HoursAllowed),
	"plan-luck-profit":   ofLuck(func(o plan.Outlook) interval.Range { return o.Profit }),
	"plan-luck-std":      ofLuck(func(o plan.Outlook) interval.Range { return o.Std }),
	"plan-luck-chance":   ofLuck(func(o plan.Outlook) interval.Range { return o.Chance }),
	"plan-contribution": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return plan.Contribution(span(in, "price"), span(in, "variable"))
	},
	"plan-margin-of": func(_ *knowledge.Loaded, in *strictyaml.Map) (any, error) {
		return plan.MarginOf(span(in, "markup"))
	},
}
