"""The choice by money: why it is so, what would change it, what it would be worth to know."""
