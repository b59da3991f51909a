package main

type serveCommand struct{}

func (serveCommand) Run() error { return nil }

type demoCommand struct{}

func (demoCommand) Run() error { return nil }
